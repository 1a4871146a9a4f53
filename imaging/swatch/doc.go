// Package swatch makes the chart: a grid of small burned squares, each at a
// setting of its own, from which a maker learns how deep a machine burns a paint.
//
// Start with [New], which lays a chart out on the scrap at hand, and
// [Chart.Rasters] for what the machine burns. [ReadChart] and [ReadReadings] read
// the two files that go with it. Package swatch/photo reads a photograph of the
// burned chart, swatch/fit finds the curve, swatch/beam the beam's width.
//
// # Units
//
// Lengths are mm, places are measured from the chart's centre with y up. Readings
// are linear light, 0..1, with the sRGB primaries. Tints and shares run from 0 to 1.
//
// # Limits
//
// A chart holds at most [MaxSwatches] swatches. Each setting that differs needs a
// raster of its own, unless the machine takes a power for each dot and the
// swatches differ in nothing but power.
package swatch
