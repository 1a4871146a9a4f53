// Package compare holds a photograph of the finished panel against its proof: how far
// the two are apart, which way, and which dose would explain it.
//
// Start with [Panel]. It takes the photograph, straightened by the panel's corners,
// moves these by a few pixels until picture and proof lie on each other, evens out the
// light of the photograph, and proofs the panel at a range of doses to find the one
// that it looks most like. [Trial] does so for every piece of a burned trial, whose
// corner marks it finds by itself.
//
// # Units
//
// Looks are linear light, 0..1, with the sRGB primaries. A dose factor of 1.1 is a
// panel that looks as if it had had a tenth more light than the setting gives.
//
// # Limits
//
// A camera's own colours are only evened out by a factor on each channel that changes
// slowly over the panel; a lamp that glares in the paint is not. A factor tells dose
// and paint thickness not apart: paint that is a tenth thinner looks like more light.
package compare
