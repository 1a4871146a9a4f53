// Package theme dresses the window: neutral greys in a light and a dark
// variant, in sizes that suit a tool window of 1280 x 800.
//
// Start with [New], which follows the desktop's own choice of light or dark, or
// with [Forced], which does not. Whatever surrounds a picture shifts how its
// colours are seen, so every surface here has equal parts of red, green and
// blue, and nothing that is drawn with this theme is strongly coloured except
// the job's own paints. Errors, cautions and what went well are told apart by
// words and marks; their tints are muted and come second.
//
// All colours are stored sRGB values; sizes are in the toolkit's
// density-independent pixels. Besides the toolkit's colour names the theme
// answers to the names of this package, [Surround] and those next to it.
package theme
