// Package picture reads the artwork: it decodes a file, turns it upright and
// hands it on as planes of linear light.
//
// Start with [Decode], then [Picture.Grey] for what the laser will burn or
// [Picture.RGB] for what the screen shows. [Probe] tells a file's size and
// depth from its header alone. [Tone] is the curve laid over the grey
// afterwards.
//
// A file holds stored sRGB values; everything that leaves this package as a
// plane is linear light in 1/65535. Sizes and positions are pixels of the
// picture as it is shown: upright by its EXIF orientation, then turned by
// [Turn]. Sixteen-bit sources keep sixteen bits all the way.
//
// Limits: JPEG (grey, colour, CMYK) and PNG are read. A colour profile or a
// gamma in the file is passed over: its values are taken as sRGB. CMYK is turned
// to RGB by plain subtraction, as no profile is read.
package picture
