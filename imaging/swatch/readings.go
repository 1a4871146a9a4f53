package swatch

import (
	"bytes"
	"encoding/json"
	"fmt"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/strict"
	"undercoat/layout"
)

// The kind and version of readings files.
const (
	ReadingsKind    = "undercoat-readings"
	ReadingsVersion = 1
)

// Reading is what one burned swatch looks like, or how wide a line of a line chart
// is. Exactly one of LinearRGB, Seen, Width and LeftOut is set.
type Reading struct {
	ID      string
	Setting burn.Setting
	// OpticalPowerW is the machine's light at FULL power, as in the machine file.
	OpticalPowerW float64
	// LinearRGB is the mean look in linear light, 0..1, measured from a photograph.
	LinearRGB *colour.Linear
	// Seen is what an eye saw, e.g. "teal" or "mostly teal"; see [ParseSeen].
	Seen string
	// Scatter is the standard deviation, in linear light, of the look from place to
	// place on the swatch; 0 where nobody has measured it.
	Scatter float64
	// Tint is the tint that a swatch of a tint row was screened from, 0.05..0.95;
	// 0 for a solid swatch.
	Tint float64
	// Width is how wide a line of a line chart is, and WidthScatter the standard
	// deviation of that from place to place; 0 where nobody has measured it.
	Width, WidthScatter layout.MM
	// LeftOut is why the swatch could not be read.
	LeftOut string
}

// Coloured is the reading with the one colour that an eye picked for it.
func (s Reading) Coloured(c colour.Stored) Reading {
	look := c.Linear()
	s.LinearRGB, s.Scatter, s.Seen, s.LeftOut = &look, 0, "", ""
	s.Width, s.WidthScatter = 0, 0
	return s
}

// Readings are what the swatches of one chart look like.
type Readings struct {
	Machine  *burn.Machine // that burned the chart; may be nil
	Photo    *PhotoFacts   // nil for readings by eye
	Swatches []Reading
}

// PhotoFacts say which photograph readings come from.
type PhotoFacts struct {
	Name   string `json:"name,omitempty"`
	SHA256 string `json:"sha256,omitempty"` // in hex, of the file
	Date   string `json:"date,omitempty"`   // year-month-day
}

type readingFile struct {
	ID string `json:"id"`
	settingFields
	OpticalPowerW float64     `json:"optical_power_w"`
	Tint          float64     `json:"tint,omitempty"`
	LinearRGB     *[3]float64 `json:"linear_rgb,omitempty"`
	Seen          string      `json:"seen,omitempty"`
	LeftOut       string      `json:"left_out,omitempty"`
	Scatter       float64     `json:"scatter,omitempty"`
	Width         layout.MM   `json:"width_mm,omitempty"`
	WidthScatter  layout.MM   `json:"width_scatter_mm,omitempty"`
}

type readingsFile struct {
	Kind     string        `json:"kind"`
	Version  int           `json:"version"`
	Machine  *burn.Machine `json:"machine,omitempty"`
	Photo    *PhotoFacts   `json:"photo,omitempty"`
	Swatches []readingFile `json:"swatches"`
}

// ReadReadings reads a readings file. Fields that it does not know and values out
// of range are refused by their path in the file.
func ReadReadings(data []byte) (Readings, error) {
	var f readingsFile
	if err := strict.Decode(data, &f); err != nil {
		return Readings{}, fmt.Errorf("readings file: %w", err)
	}
	if f.Kind != ReadingsKind {
		return Readings{}, fmt.Errorf("readings file: kind is %q: choose a file whose kind is %q", f.Kind, ReadingsKind)
	}
	if f.Version != ReadingsVersion {
		return Readings{}, fmt.Errorf("readings file: version is %d: this program reads version %d, a newer one may read the file", f.Version, ReadingsVersion)
	}
	r := Readings{Machine: f.Machine, Photo: f.Photo}
	for _, s := range f.Swatches {
		r.Swatches = append(r.Swatches, s.reading())
	}
	if err := r.Validate(); err != nil {
		return Readings{}, fmt.Errorf("readings file: %w", err)
	}
	return r, nil
}

// JSON is the readings as a file: indented, with a fixed order of fields, ending
// in a newline. The same readings always give the same bytes.
func (r Readings) JSON() ([]byte, error) {
	if err := r.Validate(); err != nil {
		return nil, fmt.Errorf("readings: %w", err)
	}
	f := readingsFile{Kind: ReadingsKind, Version: ReadingsVersion, Machine: r.Machine, Photo: r.Photo}
	for _, s := range r.Swatches {
		f.Swatches = append(f.Swatches, s.file())
	}
	return indented(f)
}

// Validate reports the first value that is out of range, by its path in the file.
func (r Readings) Validate() error {
	if n := len(r.Swatches); n < 1 || n > MaxSwatches {
		return fmt.Errorf("swatches holds %d readings: give 1 to %d", n, MaxSwatches)
	}
	if r.Machine != nil {
		if err := r.Machine.Validate(); err != nil {
			return fmt.Errorf("machine: %w", err)
		}
	}
	ids := map[string]bool{}
	for i, s := range r.Swatches {
		if err := s.Validate(); err != nil {
			return fmt.Errorf("swatches[%d]: %w", i, err)
		}
		if ids[s.ID] {
			return fmt.Errorf("swatches[%d]: id %q stands there twice: give each swatch its own", i, s.ID)
		}
		ids[s.ID] = true
	}
	return nil
}

// Validate reports the first value that is out of range, by its name in the file.
func (s Reading) Validate() error {
	if err := validateID(s.ID); err != nil {
		return err
	}
	if err := validateSetting(s.Setting); err != nil {
		return err
	}
	if err := validateTint(s.Tint); err != nil {
		return err
	}
	const maxScatter, maxLineWidth = 10, 50
	if err := strict.Within(
		strict.In("optical_power_w", s.OpticalPowerW, 0.01, 1000, "W of light"),
		strict.In("scatter", s.Scatter, 0, maxScatter, "of linear light"),
		strict.In("width_mm", float64(s.Width), 0, maxLineWidth, "mm"),
		strict.In("width_scatter_mm", float64(s.WidthScatter), 0, maxLineWidth, "mm"),
	); err != nil {
		return err
	}
	if given := countTrue(s.LinearRGB != nil, s.Seen != "", s.Width > 0, s.LeftOut != ""); given != 1 {
		return fmt.Errorf("%d of linear_rgb, seen, width_mm and left_out are given: give exactly one", given)
	}
	if len(s.Seen) > maxText || len(s.LeftOut) > maxText {
		return fmt.Errorf("seen or left_out is longer than %d bytes: shorten it", maxText)
	}
	if s.LinearRGB != nil {
		// A little below 0 is noise, a little above 1 is shine.
		for i, v := range [3]float64{s.LinearRGB.R, s.LinearRGB.G, s.LinearRGB.B} {
			if err := strict.Within(strict.In(fmt.Sprintf("linear_rgb[%d]", i), v, -0.5, 4, "of linear light")); err != nil {
				return err
			}
		}
	}
	return nil
}

func (f readingFile) reading() Reading {
	s := Reading{
		ID: f.ID, Setting: f.setting(), OpticalPowerW: f.OpticalPowerW, Tint: f.Tint,
		Seen: f.Seen, LeftOut: f.LeftOut, Scatter: f.Scatter,
		Width: f.Width, WidthScatter: f.WidthScatter,
	}
	if f.LinearRGB != nil {
		s.LinearRGB = &colour.Linear{R: f.LinearRGB[0], G: f.LinearRGB[1], B: f.LinearRGB[2]}
	}
	return s
}

func (s Reading) file() readingFile {
	f := readingFile{
		ID: s.ID, settingFields: fieldsOf(s.Setting), OpticalPowerW: s.OpticalPowerW, Tint: s.Tint,
		Seen: s.Seen, LeftOut: s.LeftOut, Scatter: s.Scatter,
		Width: s.Width, WidthScatter: s.WidthScatter,
	}
	if l := s.LinearRGB; l != nil {
		f.LinearRGB = &[3]float64{l.R, l.G, l.B}
	}
	return f
}

func countTrue(all ...bool) int {
	n := 0
	for _, b := range all {
		if b {
			n++
		}
	}
	return n
}

// indented is a value as one of the program's files.
func indented(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
