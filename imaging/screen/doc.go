// Package screen turns tints into dots: for each dot of the raster the wanted
// share of burned area (0..65535 for 0..1) becomes burn or no burn.
//
// Start with [Screen]. [New] gives the same screen a row at a time, for callers
// that never hold the whole raster. [Kinds] lists the screens, [Describe] says when
// to use which, and [Kind.Uses] which of the [Options] each takes notice of.
//
// # Screens
//
// Error diffusion decides dot after dot and passes what it owes on to those that
// follow. Unless they are left plain, such screens are part of a larger one that
// began above the raster and beside it, so that light tints have their dots from
// the first row on.
//
// The others hold each tint against a threshold of its place: a matrix, a mask, or
// cells in which dots grow. They need no neighbours and look the same everywhere.
//
// Every kind but Threshold burns, of an even tint, that share of the dots, within
// 0.2 % from 2 % to 98 %. BeamAware burns that share of the area instead, as far as
// its [CellTable] knows the beam. A tint of 0 never burns and one of 65535 always
// does.
//
// # Limits
//
// Dots are decided in whole numbers, so the same tints give the same dots on every
// machine. Screening runs in one goroutine: the error of a row is needed by the
// next. The first screen of kind Atkinson takes about a tenth of a second longer,
// the first Clustered one of a cell and angle a few hundredths.
package screen
