// Package fit finds the curve of a stack on a machine from readings of burned
// charts: at which dose each coat gives way, how sharply, what the paints look
// like, and how well all of that is known.
//
// Start with [Fit]. [Result.Stack] is the calibrated stack, [Result.Status] says in
// words what is assumed and what to burn next, [Range.Covers] tells whether a job
// stays within what the chart covered. [Update] moves a calibrated stack by what a
// finished panel has shown.
//
// # The fit
//
// Each swatch is predicted as the proof predicts it: the dose over one period of the
// lines that the machine's beam leaves at that pitch, the share of each coat that is
// gone at each dose, the mean look in linear light. Predicted and read look are
// compared in CIELAB, in steps that are close to CIEDE2000. The parameters are the
// logarithms of break-through doses and spreads, the colours of coats and ground,
// and, where the chart tells them, scorch dose and colour, the power at which the
// machine's light sets in, and the exponent of repeated passes. What is known
// beforehand holds them loosely; what the swatches leave open stays there and is
// said to be assumed. How much the swatches differ beyond the camera's noise, as paint
// of uneven thickness makes them, is measured and allowed for. Swatches that are far
// from where all others put them cease to pull.
//
// A colour counts as measured, see [Paint], where two swatches or more show it nearly
// pure and leave it little room. Else it was worked out from mixtures or is the label's,
// and the status says so. That a photograph brought to the top coat's colour is only as
// true as that colour, readings do not tell: mark a white paper where the label is in
// doubt.
//
// Swatches read by eye join in as an ordered probit: each word is a range of
// depths.
//
// # Units
//
// Doses are J/cm2, powers percent, looks linear light or stored sRGB as their types
// say, differences CIEDE2000. Coats are counted from the top down. Standard errors
// marked ln are of the logarithm of a dose: 0.02 is 2 %.
//
// # Limits
//
// The same readings always give the same result. What changes all over the chart in
// step with the power, such as paint that thins from one edge to the other, cannot be
// told from the curve: lay the powers out in mixed order or burn two charts. Equal dose is an equal burn only near the speeds and
// pitches of the chart. A power offset can only be told where swatches differ in
// speed or pitch as well, and then leans on equal doses burning equally. Yule-Nielsen
// and clear coats are left out: a chart is read bare.
package fit
