package layout

// Spot is a place on a raster's outline.
type Spot string

// The spots of an outline.
const (
	SpotCentre     Spot = "centre"
	SpotUpperLeft  Spot = "upper left corner"
	SpotTop        Spot = "middle of the top side"
	SpotUpperRight Spot = "upper right corner"
	SpotRight      Spot = "middle of the right side"
	SpotLowerRight Spot = "lower right corner"
	SpotBottom     Spot = "middle of the bottom side"
	SpotLowerLeft  Spot = "lower left corner"
	SpotLeft       Spot = "middle of the left side"
)

// WalkCautions are said beside every walk.
func WalkCautions() []string {
	return []string{
		"walk the outline with the pointer light, or with the laser at the lowest power that shows; wear eyewear made for its wavelength all the while, and follow the machine maker's own way of framing where there is one",
		"before the burn, see that no clamp, weight or cable lies in the way of the head",
	}
}

// Stop is a place the pointer light is taken to, to see that the panel lies where
// it should.
type Stop struct {
	Spot Spot
	At   Point // from the panel's centre
	// Beside is what is left of the border from here straight to the panel's
	// nearest side; what a ruler should show. 0 at the centre.
	Beside MM
}

// Walk is the way round a raster's outline: from the centre over corners and
// middles clockwise from the upper left, and back to the centre.
func (p Placement) Walk() []Stop {
	c := p.Corners
	between := func(a, b Point) Point { return Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2} }
	l := p.Left
	return []Stop{
		{SpotCentre, p.Centre, 0},
		{SpotUpperLeft, c[0], min(l.Left, l.Top)},
		{SpotTop, between(c[0], c[1]), l.Top},
		{SpotUpperRight, c[1], min(l.Right, l.Top)},
		{SpotRight, between(c[1], c[2]), l.Right},
		{SpotLowerRight, c[2], min(l.Right, l.Bottom)},
		{SpotBottom, between(c[2], c[3]), l.Bottom},
		{SpotLowerLeft, c[3], min(l.Left, l.Bottom)},
		{SpotLeft, between(c[3], c[0]), l.Left},
		{SpotUpperLeft, c[0], min(l.Left, l.Top)},
		{SpotCentre, p.Centre, 0},
	}
}
