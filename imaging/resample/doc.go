// Package resample brings a crop of a picture to the size it is wanted at.
//
// [ToSize] makes the tones of a raster, dot for dot, and is exact; [Stream] does so a
// row at a time. [View] and [GreyView] make what a screen shows and are quick. [Warp]
// and [WarpRGB] straighten a picture, by an angle or by four corners, at any size. All
// take and give linear light in 1/65535: averaging light, not code values, is what
// keeps a fine pattern as bright as it was.
//
// A crop is a closed rectangle in continuous pixels: pixel i covers i..i+1, so
// the whole of a picture is 0,0,W,H.
package resample
