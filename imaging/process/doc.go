// Package process tells whether a process that left its mark in a file is still
// at work: the holder of a lock, or the writer of a file that was never finished.
//
// Start with [Here] for the mark of this process, and [Mark.Gone] for another's.
// Processes of other computers, and of closed-off parts of this one, cannot be
// seen: of those Gone says no, and whoever asks has to go by time instead.
package process
