// Package sheet makes the printed sheets of a hand-off as PDF files: the job sheet that
// lies beside the machine, and the proof sheet that a client signs.
//
// Start with [Job] or [Client]: a placement note and a picture of the panel in, one or two
// pages of A4 or Letter out. Every figure on a sheet is taken from the note, so that
// paper and placement.json say the same.
//
// Lengths on the page are millimetres from its upper left corner, y down; type sizes are
// points. Pictures hold stored (sRGB) values. Fonts are embedded, so that Latin, Greek and
// Cyrillic letters print anywhere; a letter that the font lacks is printed as a question
// mark. The same note gives the same bytes.
package sheet
