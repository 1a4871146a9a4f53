// Package picture reads the artwork: it decodes a file, turns it upright and
// hands it on as planes of linear light.
//
// Start with [Decode], then [Picture.Grey] for what the laser will burn or
// [Picture.RGB] for what the screen shows. [Probe] tells a file's size and
// depth from its header alone. [Tone] is the curve laid over the grey
// afterwards.
//
// A file holds stored values of some colour space; everything that leaves this
// package as a plane is linear light of the sRGB primaries in 1/65535. Sizes and positions are pixels of the
// picture as it is shown: upright by its EXIF orientation, then turned by
// [Turn]. Sixteen-bit sources keep sixteen bits all the way.
//
// # What is read
//
// JPEG (baseline, progressive; grey, colour, CMYK, YCCK), PNG (1 to 16 bits),
// GIF (the first frame), WebP (lossy, lossless, alpha), TIFF (1, 8 and 16 bits;
// plain, LZW, deflate, PackBits, fax; the first picture) and BMP (not packed).
// Not read, and refused with a word on what to do: animated WebP, TIFF in CMYK or
// in planes, camera raw, HEIC, AVIF, SVG.
//
// # Colours
//
// An ICC profile of version 2 or 4 is followed relative to the white of its medium,
// its black brought down to black: profiles of curves and a matrix, and of grey,
// exactly; those with tables, for RGB and CMYK, by way of an even table, which
// costs a mean of about 0.1 in CIEDE2000. Without a profile a PNG may state sRGB, or
// a gamma and primaries; all else is read as sRGB, and CMYK is turned to RGB by
// plain subtraction. What cannot be followed stands in Header.ProfileNote. Colours
// outside sRGB are cut channel by channel; the grey of a profile of curves and a
// matrix is weighed before that and keeps their luminance.
//
// # Limits
//
// The header is checked before memory is set aside: 250 million pixels unless told
// otherwise, and no more pixels than the file's bytes can hold. Header.MemoryBytes
// says beforehand what decoding takes at most. Profiles of more than 8 MB or with
// curves of more than 4096 entries are not followed. No file opens a connection or
// starts a program.
package picture
