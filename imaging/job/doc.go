// Package job is the job itself: the document that says how a picture becomes a
// panel, the one file it is kept in, and the run from picture to hand-off that
// the window and the command line share.
//
// Start with [Read] or [New] for a [Job], [Document.Plan] for everything that
// follows from its numbers alone, [Job.Open] for the decoded picture, and
// [Prepare] for the hand-off. Lengths are millimetres, doses J/cm2, positions
// are measured from the panel's centre with y up.
package job
