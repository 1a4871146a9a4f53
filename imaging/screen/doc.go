// Package screen turns tints into dots: for each dot of the raster the wanted
// share of burned area (0..65535 for 0..1) becomes burn or no burn.
//
// Start with [Screen]. [New] gives the same screen a row at a time, for callers
// that never hold the whole raster. The kinds of screen stand in one table;
// [Kinds] lists them.
//
// All arithmetic is in whole numbers, so the same tints give the same dots on
// every machine. Screening runs in one goroutine: the error of a row is needed
// by the next.
package screen
