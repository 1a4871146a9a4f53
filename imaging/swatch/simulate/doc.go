// Package simulate burns a chart and photographs it in the mind: the truth that
// tests hold the reading of photographs and the fitting of curves against. Only
// tests use it.
//
// Start with a [Scene] and [Scene.Photo]. [Scene.Looks] gives the looks that the
// swatches really have, in linear light with the sRGB primaries: the mean over the
// dose field of a fully burned or screened area, as package burn exposes it and
// package coat shows it. The photograph adds what a maker's has: uneven paint,
// perspective, light that falls off, a colour cast, noise, and JPEG.
//
// Lengths are mm from the chart's centre, y up; pixels run right and down. The
// same scene gives the same photograph.
package simulate
