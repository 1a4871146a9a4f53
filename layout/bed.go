package layout

import "fmt"

// Bed is the area a machine's head can reach.
type Bed = Size

// Travel is what the head covers to burn a raster: its true size, with the
// run-up on both ends of the lines.
func Travel(g Grid, runUp MM) Size {
	s := g.Size()
	return Size{s.W + 2*runUp, s.H}
}

// Fits reports whether a travel lies within the bed, its edge included, and if
// not, why and what would help.
func Fits(travel, bed Size) (fits bool, why string) {
	const slack MM = 1e-6 // far below any machine's step, above rounding
	within := func(t Size) bool { return t.W <= bed.W+slack && t.H <= bed.H+slack }
	if within(travel) {
		return true, ""
	}
	help := "choose a smaller panel or a wider border, or burn it in sections"
	if within(Size{travel.H, travel.W}) {
		help = "try panel and picture a quarter turn round, or " + help
	}
	return false, fmt.Sprintf("the head travels %s with its run-up but the bed is %s: %s",
		Millimetre.FormatSize(travel), Millimetre.FormatSize(bed), help)
}
