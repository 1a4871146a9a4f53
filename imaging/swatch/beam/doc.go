// Package beam finds how wide the laser's beam really is from two charts: lines
// burned at rising power, and a row of even tints.
//
// Start with [FromLines], which needs nothing but the widths of lines under a
// loupe, [FromLineReadings] for those that were measured in a photograph, or [FromTints], which needs a photograph and a fitted stack.
//
// Widths are layout.MM. A beam's width is its D4sigma, four standard deviations,
// as ISO 11146 measures it and as machine files hold it: twice its 1/e2 radius.
//
// # Limits
//
// Both find the width that the paint answers to, for a Gaussian beam. Heat that
// creeps sideways makes it wider than an instrument would, and that is the width
// that a proof wants. Line widths tell of the beam across the lines alone,
// tints of one no narrower than some 0.7 of the pitch: dots that hardly meet look the
// same for all.
package beam
