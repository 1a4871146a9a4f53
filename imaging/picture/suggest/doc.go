// Package suggest proposes crops of a picture: where its detail is, in the panel's
// shape.
//
// Start with [Crops]: linear light in 1/65535 and a shape in, up to three crops out,
// the best first, each with a plain word why. The same picture gives the same crops.
//
// Detail is how steeply lightness (L*) changes from place to place, seen on a small
// copy of the picture, so that grain does not count. It knows nothing of what a
// picture shows: a hedge may win over a face in soft light. Crops are suggestions.
package suggest
