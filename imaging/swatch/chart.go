package swatch

import (
	"fmt"
	"math"
	"unicode/utf8"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/layout"
)

// The kind and version of chart files.
const (
	ChartKind    = "undercoat-chart"
	ChartVersion = 1
)

// What a chart may hold.
const (
	MaxSwatches = 1000
	MinTint     = 0.05
	MaxTint     = 0.95
	maxText     = 400 // bytes of a free text
	maxID       = 16  // bytes of a swatch's id
)

// Kind says what a chart's swatches are.
type Kind string

// The kinds of chart.
const (
	Solid Kind = ""      // squares burned all over: for the curve
	Tints Kind = "tints" // even tints at one setting: for the beam's dot gain
	Lines Kind = "lines" // single lines at rising power: for the beam's width
)

// Kinds lists the kinds of chart.
func Kinds() []Kind { return []Kind{Solid, Tints, Lines} }

// Swatch is one burned square, or one line of a line chart.
type Swatch struct {
	ID      string
	Centre  layout.Point // from the chart's centre, y up
	Size    layout.Size
	Setting burn.Setting
	Tint    float64 // of a tint row: 0.05..0.95; 0 is solid
}

// Area is the swatch's rectangle.
func (s Swatch) Area() layout.Area { return layout.Area{Centre: s.Centre, Size: s.Size} }

// RasterFile is one raster of a chart: what is burned at one setting.
type RasterFile struct {
	File    string
	Setting burn.Setting
	// EightBit rasters hold the share of the setting's light for each dot.
	EightBit bool
}

// Chart is a grid of swatches with marks at its corners.
type Chart struct {
	Kind Kind
	Size layout.Size // of every raster
	// Marks are the outer corners of the four marks: upper left, upper right, lower
	// right, lower left, seen upright.
	Marks [4]layout.Point
	// MarkSide is the side of a mark's square; 0 in a chart whose marks are unknown,
	// so that a photograph of it needs its corners given.
	MarkSide   layout.MM
	Swatches   []Swatch
	References []layout.Area // unburned fields between the swatches; may be empty
	Rasters    []RasterFile  // in the order in which they are burned
	// MarkSetting is the one of the rasters' settings that marks and labels are
	// burned at; nil where there are none.
	MarkSetting *burn.Setting
	Machine     *burn.Machine // that the chart is made for; may be nil
	Stack       *coat.Stack   // that it is burned into; may be nil
}

// Swatch gives the swatch of an id.
func (c Chart) Swatch(id string) (Swatch, bool) {
	for _, s := range c.Swatches {
		if s.ID == id {
			return s, true
		}
	}
	return Swatch{}, false
}

// Validate reports the first value that is out of range, by its path in the file.
func (c Chart) Validate() error {
	if c.Kind != Solid && c.Kind != Tints && c.Kind != Lines {
		return fmt.Errorf("chart_kind is %q: write %q or %q, or leave it out for solid swatches", c.Kind, Tints, Lines)
	}
	if err := c.Size.Validate(); err != nil {
		return fmt.Errorf("size_mm: %w", err)
	}
	if !(c.MarkSide >= 0 && c.MarkSide <= min(c.Size.W, c.Size.H)/2) {
		return fmt.Errorf("mark_side_mm %g is out of range: give 0 to half the chart's shorter side", float64(c.MarkSide))
	}
	if err := c.validateMarks(); err != nil {
		return err
	}
	if err := c.validateSwatches(); err != nil {
		return err
	}
	for i, a := range c.References {
		if err := c.inside(fmt.Sprintf("references[%d]", i), a); err != nil {
			return err
		}
	}
	for i, r := range c.Rasters {
		if err := validateSetting(r.Setting); err != nil {
			return fmt.Errorf("rasters[%d]: %w", i, err)
		}
		if len(r.File) > maxText {
			return fmt.Errorf("rasters[%d]: file is longer than %d bytes: shorten it", i, maxText)
		}
	}
	return c.validateBurn()
}

func (c Chart) validateBurn() error {
	if c.MarkSetting != nil {
		if err := validateSetting(*c.MarkSetting); err != nil {
			return fmt.Errorf("mark_setting: %w", err)
		}
	}
	if c.Machine != nil {
		if err := c.Machine.Validate(); err != nil {
			return fmt.Errorf("machine: %w", err)
		}
	}
	if c.Stack != nil {
		if err := c.Stack.Validate(); err != nil {
			return fmt.Errorf("stack: %w", err)
		}
	}
	return nil
}

// validateMarks wants the corners of an upright rectangle, or near enough to it:
// x and y must order them as their names do.
func (c Chart) validateMarks() error {
	for i, p := range c.Marks {
		if !finite(p.X, p.Y) {
			return fmt.Errorf("marks_mm[%d] is no place: write [x, y] in mm from the chart's centre", i)
		}
		if math.Abs(float64(p.X)) > float64(layout.MaxLength) || math.Abs(float64(p.Y)) > float64(layout.MaxLength) {
			return fmt.Errorf("marks_mm[%d] lies %g, %g mm from the centre: write at most %g mm", i, float64(p.X), float64(p.Y), float64(layout.MaxLength))
		}
	}
	ul, ur, lr, ll := c.Marks[0], c.Marks[1], c.Marks[2], c.Marks[3]
	left, right := max(ul.X, ll.X), min(ur.X, lr.X)
	low, high := max(ll.Y, lr.Y), min(ul.Y, ur.Y)
	if !(left < right && low < high) {
		return fmt.Errorf("marks_mm do not span a rectangle: list upper left, upper right, lower right, lower left, with y up")
	}
	return nil
}

func (c Chart) validateSwatches() error {
	if n := len(c.Swatches); n < 1 || n > MaxSwatches {
		return fmt.Errorf("swatches holds %d swatches: give 1 to %d", n, MaxSwatches)
	}
	ids := map[string]bool{}
	for i, s := range c.Swatches {
		path := fmt.Sprintf("swatches[%d]", i)
		if err := validateID(s.ID); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		if ids[s.ID] {
			return fmt.Errorf("%s: id %q stands there twice: give each swatch its own", path, s.ID)
		}
		ids[s.ID] = true
		if err := c.inside(path, s.Area()); err != nil {
			return err
		}
		if err := validateSetting(s.Setting); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		if err := validateTint(s.Tint); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
	}
	return nil
}

// inside refuses an area that reaches out of the chart by more than rounding.
func (c Chart) inside(path string, a layout.Area) error {
	if !finite(a.Centre.X, a.Centre.Y) {
		return fmt.Errorf("%s: centre_mm is no place: write [x, y] in mm from the chart's centre", path)
	}
	if err := a.Size.Validate(); err != nil {
		return fmt.Errorf("%s: size_mm: %w", path, err)
	}
	const rounding = 0.01
	x := math.Abs(float64(a.Centre.X)) + float64(a.Size.W)/2
	y := math.Abs(float64(a.Centre.Y)) + float64(a.Size.H)/2
	if x > float64(c.Size.W)/2+rounding || y > float64(c.Size.H)/2+rounding {
		return fmt.Errorf("%s reaches %.4g, %.4g mm from the centre of a chart of %s: move it inside",
			path, x, y, layout.Millimetre.FormatSize(c.Size))
	}
	return nil
}

func finite(x, y layout.MM) bool {
	sum := math.Abs(float64(x)) + math.Abs(float64(y))
	return !math.IsNaN(sum) && !math.IsInf(sum, 1)
}

func validateID(id string) error {
	if id == "" || len(id) > maxID || !utf8.ValidString(id) {
		return fmt.Errorf("id %q is empty or longer than %d bytes: write one such as A1", shortened(id), maxID)
	}
	return nil
}

func shortened(text string) string {
	const most = 40
	if len(text) <= most {
		return text
	}
	return text[:most] + "..."
}

func validateTint(t float64) error {
	if t == 0 || t >= MinTint && t <= MaxTint {
		return nil
	}
	return fmt.Errorf("tint %g is out of range: give %g to %g, or leave it out for a solid swatch", t, MinTint, MaxTint)
}
