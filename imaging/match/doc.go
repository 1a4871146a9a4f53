// Package match turns a colour picture into doses: each dot gets the look, out of
// those that a stack can give, that is nearest to its colour, and what it misses
// is passed on to its neighbours.
//
// Start with [PowerLooks] for a machine that takes a power for every pixel, or
// with [StepLooks] for one raster per coat to be uncovered; hand the looks to
// [Diffuse] and its result to [Powers] or [Steps]. Pictures are linear light,
// 0..65535; nearness is CIEDE2000, errors are passed on in linear light.
package match
