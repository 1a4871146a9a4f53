// Package coat holds the stack of paints and says what a dose of light leaves of it.
//
// Start with [ReadStack] or a [Stack] literal, then [Stack.Compile]; the
// [Model] it gives answers how deep a dose burns ([Model.DepthUM]), at which
// dose a coat gives way ([Model.BreakThrough]), which coats show and what that
// looks like ([Model.ShowThrough], [Model.Look]). [Model.Table] is the fast form
// for millions of samples.
//
// # The model
//
// The curve is a monotone cubic in the logarithm of the dose, fitted through
// the points of the calibration. A coat whose lower face lies at a depth breaks
// through at the dose which reaches that depth. Paint is never evenly thick, so
// a break-through is not a step: the share of area that has lost the coat
// follows a log-normal distribution about that dose. Coats are nested: a lower
// coat is never bare beneath an upper one that is still there. The look is the
// mean of the bare paints, weighted by area, in linear light.
//
// Break-through belongs to a coat in its stack on one machine. It is measured
// with a chart, never worked out from the paint; an uncalibrated curve is a guess.
//
// # Units
//
// Doses are J/cm2 of one pass at the calibrated speed and pitch; several passes
// are folded into the dose before it comes here. Depths and thicknesses are
// micrometres. Coats are counted from the top down, the ground comes after the
// last coat. Looks are linear light, 0..1; the colours of a stack are stored sRGB
// and stand for the bare, matt film as it is seen.
//
// # Limits
//
// A coat hides what lies under it: no paint here is translucent. Equal dose is
// an equal burn only near the speed, pitch and focus that the chart was burned
// at. A model may be used by any number of goroutines at once.
package coat
