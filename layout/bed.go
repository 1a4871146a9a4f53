package layout

// Bed is the area a machine's head can reach.
type Bed = Size

// Travel is what the head covers to burn a raster: its true size, with the
// run-up on both ends of the lines.
func Travel(g Grid, runUp MM) Size {
	s := g.Size()
	return Size{s.W + 2*runUp, s.H}
}
