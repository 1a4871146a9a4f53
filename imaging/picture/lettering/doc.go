// Package lettering puts lines of text on a panel, over a picture or in place of
// one: burned out of the paint, or left in the top coat with the picture's dots
// held off.
//
// Start with [NewFonts] and [Layout], which turns lines into outlines in
// millimetres. [Rasterise] makes masks of the raster's own dots from them, so
// that letters are crisp and never screened, and [OverDots] lays these over the
// picture's dots. [Draw] and [OverTints] do the same for a view of any part of
// the panel. [CheckPlace] and [CheckStroke] say what reaches past the picture
// area and what is too thin to hold.
//
// # Units and axes
//
// Lengths are layout.MM and places are measured from the panel's centre, y up.
// The size of a line is its cap height. Masks have 1 where dots burn, or must
// not; views have shares of a pixel in 1/65535.
//
// # Limits
//
// Letters stand side by side from left to right, with the font's kerning and no
// other shaping: ligatures are not made, marks are placed by their shape, and
// writing that needs more (Arabic, Hebrew, Devanagari and their relatives) is
// refused. Fonts are TTF or OTF of at most [MaxFontBytes], a line has at most
// [MaxLetters], a job at most [MaxLines]. Damaged fonts give errors. All values
// may be shared between goroutines as long as nobody writes to them.
package lettering
