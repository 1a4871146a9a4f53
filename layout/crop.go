package layout

import (
	"encoding/json"
	"fmt"
	"math"
)

// Crop is the part of a picture that is burned, in pixels of the picture as it
// was turned: a closed rectangle, from the picture's upper left corner, with
// parts of pixels allowed. In files it is [x, y, w, h].
type Crop struct{ X, Y, W, H float64 }

// minCropSide is the shortest side a crop can be zoomed to, in pixels.
const minCropSide = 8

// aspectTolerance is how far a crop may be from the shape it should have, as a
// share: whole pixels can be typed, and nobody sees the difference.
const aspectTolerance = 1e-3

// edgeTolerance is how far a crop that was typed or read may reach past the
// picture, in pixels: its numbers are rounded where people see them.
const edgeTolerance = 0.01

// LargestCrop is the largest crop of a shape, width over height, centred in a
// picture. Without a picture or a shape it is the zero Crop.
func LargestCrop(picW, picH int, aspect float64) Crop {
	if picW <= 0 || picH <= 0 || !(aspect > 0) || math.IsInf(aspect, 1) {
		return Crop{}
	}
	w, h := float64(picW), float64(picH)
	if w <= h*aspect {
		h = math.Min(h, w/aspect)
	} else {
		w = h * aspect
	}
	return Crop{X: (float64(picW) - w) / 2, Y: (float64(picH) - h) / 2, W: w, H: h}
}

// MovedBy moves the crop as far as the picture's edges allow. NaN does not move.
func (c Crop) MovedBy(dx, dy float64, picW, picH int) Crop {
	if math.IsNaN(dx) {
		dx = 0
	}
	if math.IsNaN(dy) {
		dy = 0
	}
	return Crop{c.X + dx, c.Y + dy, c.W, c.H}.inside(picW, picH)
}

// Zoomed shows the picture factor times as large, so that the crop becomes so
// much smaller; a factor below 1 zooms out. The picture point (atX, atY) keeps
// its place in the crop as far as the picture's edges allow, and the shape stays.
// The crop ends at the largest that fits and at 8 pixels on its short side, or
// at the largest if that is smaller still. A factor which is not above 0 does
// not zoom.
func (c Crop) Zoomed(factor, atX, atY float64, picW, picH int) Crop {
	c = c.inside(picW, picH)
	largest := LargestCrop(picW, picH, c.W/c.H)
	if !(factor > 0) || math.IsNaN(atX) || math.IsNaN(atY) || largest == (Crop{}) {
		return c
	}
	shortest := math.Min(minCropSide, math.Min(largest.W, largest.H))
	smallest := shortest / math.Min(c.W, c.H) // as a share of the crop
	share := math.Min(math.Max(1/factor, smallest), largest.W/c.W)
	atX, atY = clamp(atX, 0, float64(picW)), clamp(atY, 0, float64(picH))
	return Crop{
		X: atX - (atX-c.X)*share,
		Y: atY - (atY-c.Y)*share,
		W: c.W * share,
		H: c.H * share,
	}.inside(picW, picH)
}

// Refit gives the crop a new shape, width over height, and keeps its area and
// centre as nearly as the picture allows. An impossible shape changes nothing; a
// crop without an area becomes the largest.
func (c Crop) Refit(aspect float64, picW, picH int) Crop {
	largest := LargestCrop(picW, picH, aspect)
	area := c.W * c.H
	if largest == (Crop{}) {
		return c
	}
	if !(area > 0) || math.IsInf(area, 1) {
		return largest
	}
	w := math.Min(math.Sqrt(area*aspect), largest.W)
	h := math.Min(w/aspect, largest.H)
	return Crop{c.X + (c.W-w)/2, c.Y + (c.H-h)/2, w, h}.inside(picW, picH)
}

// inside moves the crop into the picture, and shrinks it in its own shape if it
// is too large for that.
func (c Crop) inside(picW, picH int) Crop {
	w, h := float64(picW), float64(picH)
	if c.W > w || c.H > h {
		largest := LargestCrop(picW, picH, c.W/c.H)
		c = Crop{c.X + (c.W-largest.W)/2, c.Y + (c.H-largest.H)/2, largest.W, largest.H}
	}
	c.X, c.Y = clamp(c.X, 0, w-c.W), clamp(c.Y, 0, h-c.H)
	return c
}

func clamp(v, low, high float64) float64 { return math.Max(low, math.Min(v, high)) }

// Validate refuses a crop that is empty, reaches out of the picture, or is not
// of the shape, width over height, to a thousandth.
func (c Crop) Validate(picW, picH int, aspect float64) error {
	if !(aspect > 0) || math.IsInf(aspect, 1) {
		return fmt.Errorf("crop shape %g is not possible: choose a width over height above 0", aspect)
	}
	for _, v := range []float64{c.X, c.Y, c.W, c.H} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("crop %v holds a value that is not a number: write x,y,w,h in pixels", c)
		}
	}
	if c.W <= 0 || c.H <= 0 {
		return fmt.Errorf("crop %v is empty: choose a width and height above 0", c)
	}
	if c.X < -edgeTolerance || c.Y < -edgeTolerance ||
		c.X+c.W > float64(picW)+edgeTolerance || c.Y+c.H > float64(picH)+edgeTolerance {
		return fmt.Errorf("crop %v reaches out of the picture of %d x %d pixels: move it or make it smaller", c, picW, picH)
	}
	if math.Abs(c.W/c.H/aspect-1) > aspectTolerance {
		fit := c.Refit(aspect, picW, picH)
		return fmt.Errorf("crop %v is %.4g times as wide as high but the picture area is %.4g times: use %v", c, c.W/c.H, aspect, fit)
	}
	return nil
}

// String writes x,y,w,h in pixels, to a thousandth.
func (c Crop) String() string {
	round := func(v float64) float64 { return math.Round(v*1000) / 1000 }
	return fmt.Sprintf("%g,%g,%g,%g", round(c.X), round(c.Y), round(c.W), round(c.H))
}

// MarshalJSON writes [x, y, w, h].
func (c Crop) MarshalJSON() ([]byte, error) { return json.Marshal([4]float64{c.X, c.Y, c.W, c.H}) }

// UnmarshalJSON reads [x, y, w, h].
func (c *Crop) UnmarshalJSON(data []byte) error {
	return readNumbers(data, "[x, y, w, h]", &c.X, &c.Y, &c.W, &c.H)
}
