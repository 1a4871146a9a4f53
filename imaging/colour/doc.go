// Package colour holds the colour spaces of the program and the way between them.
//
// Start with [Stored.Linear] and [Linear.Stored]: a colour that a file or a
// screen holds is Stored (sRGB code values, 0..255), a colour that can be mixed
// is Linear (linear light, 0..1). The two are different types so that nobody
// averages code values by mistake. [XYZ] and [Lab] follow CIE 15 under D65;
// [DE2000] is the colour difference that tolerances are stated in.
package colour
