package widgets

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/colour"
)

var _ fyne.Widget = (*Core)(nil)

// Layer is a coat of the stack, or its ground.
type Layer struct {
	Name        string
	Colour      colour.Stored
	ThicknessUM float64 // of no meaning for the ground
}

// CoreReading is what a burn does at one place.
type CoreReading struct {
	Where    string // at the pointer, at the setting
	Shows    string // the look in a few words
	Look     colour.Stored
	DoseJCM2 float64
	DepthUM  float64
	Shares   []float64 // of the area, coats from the top down, then the ground; may be nil
}

// Core is a cut through the stack: the coats with their thickness to scale over
// the ground, and a notch as deep as the burn.
type Core struct {
	widget.BaseWidget

	coats   []Layer
	ground  Layer
	reading CoreReading
	burned  bool
}

// NewCore is a core without a stack.
func NewCore() *Core {
	c := &Core{}
	c.ExtendBaseWidget(c)
	return c
}

// SetStack shows coats from the top down and the ground below them.
func (c *Core) SetStack(coats []Layer, ground Layer) {
	if slices.Equal(c.coats, coats) && c.ground == ground {
		return
	}
	c.coats, c.ground = coats, ground
	c.Refresh()
}

// SetReading cuts the notch and says what it shows.
func (c *Core) SetReading(r CoreReading) {
	c.reading, c.burned = r, true
	c.Refresh()
}

// Reading is what the notch shows.
func (c *Core) Reading() CoreReading { return c.reading }

// ClearReading closes the notch.
func (c *Core) ClearReading() {
	c.reading, c.burned = CoreReading{}, false
	c.Refresh()
}

// CreateRenderer is called by the toolkit.
func (c *Core) CreateRenderer() fyne.WidgetRenderer {
	return newDrawn(c, c.minSize, c.paint)
}

func (c *Core) minSize() fyne.Size { return fyne.NewSize(180, 240) }
