// Package widgets holds the instruments of the window: the [Easel] with the
// panel to scale, the [DepthRibbon] with the look at every dose, the [Core] cut
// through the coats, the [CurveEditor] for tones, the [CornerPicker] for pictures taken
// aslant, and the smaller ones the drawers are put together from.
//
// A widget here knows nothing of a job. It is handed images and values to show
// through its Set methods and reports what the hand does through its On
// callbacks, which may be nil. Set methods never call back, save that
// [Easel.OnViewChanged] follows whatever changes the visible part of the panel;
// so an owner may answer a callback by setting the same widget.
//
// Lengths are layout.MM, points on the panel are measured from its centre with y
// up, doses are J/cm2, thicknesses and depths um, shares 0..1. Images are stored
// sRGB, one tight *image.RGBA from (0, 0) a hand-over, and belong to the widget
// afterwards: nobody may write to them again.
//
// Everything runs on the toolkit's main goroutine. While something is dragged
// the On...Changed or On...Moved callback follows every move and the matching
// ...Ended callback follows once, when it is let go; arrow keys do the same from
// the first press to the release.
package widgets
