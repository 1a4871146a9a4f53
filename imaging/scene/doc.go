// Package scene hangs a proof on a wall, to scale, so that a client sees the
// panel before it is painted.
//
// Start with [Render]: the proof of the whole panel and its size in, one of the
// rooms of [Kinds] drawn round it. [OnPhoto] hangs it on a photo of the client's
// own wall instead, by a known length marked in the photo.
//
// # Values and units
//
// Proofs, photos and results are images of stored (sRGB) values without
// transparency. All mixing, at edges, in shadows and when sizes change, is done
// in linear light. Lengths are layout.MM; inside the package a place on the wall is
// in mm, x to the right from the panel's centre and y up from the floor.
//
// # What is to scale
//
// The wall's plane: the panel, and the furniture along the wall, whose depth is
// only hinted at. A panel shows the proof's own colours: the room is lit so that
// the light at its centre is 1. Rooms are drawings, no photographs, and a screen
// cannot show how a gloss coat plays with the light: it is a view to talk over.
//
// # Limits
//
// Views are 16..8192 pixels each way, photos up to 100 million pixels. The same
// input gives the same bytes on any number of cores, and a long call stops soon
// after the end of its context.
package scene
