// Package photo reads a photograph of a burned chart: what each swatch looks like,
// in linear light.
//
// Start with [Read]. It finds the chart by its corner marks, or by four corners
// that somebody pointed at, and takes the mean of each swatch's inside. It does not
// matter how the photograph is turned, whether it is mirrored, or that it was taken
// a little from the side.
//
// [ReadLines] measures the lines of a line chart instead: how wide each is, between
// the places on its two sides where the change from the bare to the burned paint is
// half done. That level is one for the whole chart, so that all widths are of the
// same dose.
//
// # What makes the readings true
//
// Means are taken in linear light, over blocks of the swatch wider than the lines
// of the burn, so that a mesh of two paints is weighed by its areas. Light that
// falls off is evened out by what the unburned fields between the swatches show.
// Colours are brought to the known colour of the top coat, or to a white paper in
// the photograph.
//
// # Units
//
// Places in the photograph are pixels of the upright picture, places on the chart
// mm from its centre with y up. Readings are linear light, 0..1, sRGB primaries.
//
// # Limits
//
// A camera that bends its tones away from sRGB, or adds a veil of stray light, does
// so here too. Shine is light like any other: turn the panel until it is matt. A
// curved panel or a strong fish-eye shifts the swatches; they are read in the
// middle three fifths of their width.
//
// A line is measured where it is at least twice as wide as the standard deviation
// of the photograph's blur, whose share in its width is taken out for an even line
// under a Gaussian blur. Lines of six pixels or more hardly need that; those of three
// come out some hundredths off. A telephone that draws dark and bright seams along
// edges moves them, and nothing here sees that.
package photo
