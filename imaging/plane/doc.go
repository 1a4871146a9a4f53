// Package plane holds pictures as plain planes of numbers: grey and colour in
// linear light or tints at 16 bits, and one-bit rasters packed eight dots a byte.
//
// Start with [NewGrey16] or [NewBits]. Rows run from the top down, x to the
// right, with no padding between the rows of a Grey16 or RGB16. [SplitRows] is
// the one way the program shares rows out to the processor's cores.
package plane
