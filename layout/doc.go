// Package layout holds everything that is measured in millimetres: lengths as
// people type and read them, the panel, its border, the raster's dots, where
// the raster goes, the crop that gives a picture the panel's shape, whether it
// fits the machine, and how long the burn takes.
//
// Start with [Place]: a panel, a border and a pitch in, a [Placement] out, with
// the raster's dots, its true size and its corners. [ParseLength], [ParseSize],
// [ParseBorder], [ParsePitch] and [ParseSpeed] read what people type;
// [Unit.Format] and its siblings write it back so that it reads the same again.
//
// [Reach.Fit] says whether a machine can burn a placement, whole, turned or in
// [Section]s while the panel is moved along; [Placement.Slipped] and [LeastBorder]
// say what laying it down a little askew does to the border. [Plan.Timetable] is
// when to paint, burn and finish, and [Panel.Needs] what paint that takes.
//
// [FromCorners] and [Straighten] say where the pixels of a straightened picture come
// from in the picture as it was: a [Homography], for package resample to follow.
//
// # Units and axes
//
// Lengths are [MM], speeds [MMPerSecond]. A [Point] is measured from the panel's
// centre, x to the right and y up. A raster's rows and a picture's pixels run
// down from the upper left corner; a [Crop] and a [PicturePoint] are in picture
// pixels.
//
// # Limits
//
// No length is longer than [MaxLength], pitches run from [MinPitch] to
// [MaxPitch], and a raster has at most [MaxDots] dots. Values of this package
// are plain and may be shared between goroutines.
package layout
