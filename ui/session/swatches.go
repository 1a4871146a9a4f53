package session

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/photo"
)

// ChartReading is one burned chart and what its swatches look like. It is a plain
// value, but for [ChartReading.Answer], which changes it in place.
type ChartReading struct {
	Name     string // of the file it came from, for people
	Readings swatch.Readings
	Cautions []string
	Stack    *coat.Stack // that the chart was made for; nil: it does not say

	measured []swatch.Reading // what the photograph told, before anyone chose otherwise
	shot     *shot            // nil: not read from a photograph since the program was started
}

// Answer is what a maker says about a swatch.
type Answer struct {
	// Measured goes back to what the photograph told.
	Measured bool
	// Seen is what the maker's eye saw; empty with Measured and Picked false leaves the
	// swatch out.
	Seen string
	// Picked takes Colour for what shows.
	Picked bool
	Colour colour.Stored
}

// The reasons that a maker leaves a swatch out for.
const (
	notLooked  = "nobody has looked at it yet"
	notWanted  = "left out by hand"
	dateLayout = time.DateOnly
)

// ByEye is a chart none of whose swatches anybody has looked at yet. The machine is the
// one that burned it, for a chart that does not say.
func ByEye(name string, chart swatch.Chart, machine burn.Machine) ChartReading {
	c := ChartReading{Name: name, Stack: chart.Stack, Readings: swatch.Readings{Machine: chart.Machine}}
	if chart.Machine == nil {
		c.Readings.Machine = &machine
	}
	for _, s := range chart.Swatches {
		c.Readings.Swatches = append(c.Readings.Swatches, swatch.Reading{
			ID: s.ID, Setting: s.Setting, Tint: s.Tint, OpticalPowerW: c.Readings.Machine.OpticalPowerW, LeftOut: notLooked,
		})
	}
	return c
}

// ReadChart reads a photograph of a burned chart. An error that is [photo.ErrNoChart]
// asks for the corners of its marks. The machine is the one that burned the chart, for a
// chart that does not say. It takes its time: call it beside the window.
func ReadChart(ctx context.Context, p *Photo, chart swatch.Chart, machine burn.Machine, m Marked) (ChartReading, error) {
	o := photo.Options{
		Corners: m.Corners, White: m.White,
		Facts: &swatch.PhotoFacts{Name: p.Name, SHA256: job.Checksum(p.Data), Date: time.Now().Format(dateLayout)},
	}
	if chart.Machine == nil {
		o.Machine = &machine
	}
	r, err := photo.Read(ctx, p.pic, chart, o)
	if err != nil {
		return ChartReading{}, err
	}
	return ChartReading{
		Name: p.Name, Readings: r.Readings, Cautions: r.Cautions, Stack: chart.Stack,
		measured: slices.Clone(r.Readings.Swatches),
		shot:     &shot{p.Name, p.Data, chart, m},
	}, nil
}

// OpenSwatches reads a chart's file or the readings of one; exactly one of the results
// is set.
func OpenSwatches(path string) (*swatch.Chart, *ChartReading, error) {
	data, err := job.ReadBytes(path)
	if err != nil {
		return nil, nil, err
	}
	name := filepath.Base(path)
	var file struct {
		Kind string `json:"kind"`
	}
	// What cannot be read at all is told by the chart's own reader.
	if err := json.Unmarshal(data, &file); err == nil && file.Kind == swatch.ReadingsKind {
		r, err := swatch.ReadReadings(data)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", name, err)
		}
		return nil, &ChartReading{Name: name, Readings: r, measured: slices.Clone(r.Swatches)}, nil
	}
	chart, err := swatch.ReadChart(data)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	return &chart, nil, nil
}

// SameChart tells whether two readings are of one burned chart, which may not count twice:
// they come from one photograph, or are by eye, of one name and of the same settings.
func (c ChartReading) SameChart(other ChartReading) bool {
	a, b := c.Readings.Photo, other.Readings.Photo
	if a != nil || b != nil {
		return a != nil && b != nil && a.SHA256 != "" && a.SHA256 == b.SHA256
	}
	return c.Name == other.Name && slices.EqualFunc(c.Readings.Swatches, other.Readings.Swatches, func(s, t swatch.Reading) bool {
		return s.ID == t.ID && s.Setting == t.Setting
	})
}

// Used is the number of swatches that are not left out.
func (c *ChartReading) Used() int {
	n := 0
	for _, s := range c.Readings.Swatches {
		if s.LeftOut == "" {
			n++
		}
	}
	return n
}

// Measured tells whether a photograph says what a swatch looks like, or why it could
// not be read.
func (c *ChartReading) Measured(nth int) bool { return nth < len(c.measured) }

// Answer takes what the maker says about a swatch, 0 being the first.
func (c *ChartReading) Answer(nth int, a Answer) {
	s := c.Readings.Swatches[nth]
	s.LinearRGB, s.Scatter, s.Seen, s.LeftOut = nil, 0, "", ""
	switch {
	case a.Measured && c.Measured(nth):
		s = c.measured[nth]
	case a.Picked:
		s = s.Coloured(a.Colour)
	case a.Seen != "":
		s.Seen = a.Seen
	default:
		s.LeftOut = notWanted
	}
	c.Readings.Swatches[nth] = s
}

// Answered is what was said about a swatch last.
func (c *ChartReading) Answered(nth int) Answer {
	s := c.Readings.Swatches[nth]
	if c.Measured(nth) && sameLook(s.LinearRGB, c.measured[nth].LinearRGB) && s.Seen == c.measured[nth].Seen && s.LeftOut == c.measured[nth].LeftOut {
		return Answer{Measured: true}
	}
	if s.LinearRGB != nil {
		return Answer{Picked: true, Colour: s.LinearRGB.Stored()}
	}
	return Answer{Seen: s.Seen}
}

func sameLook(a, b *colour.Linear) bool {
	return a == b || a != nil && b != nil && *a == *b
}

// Unseen tells whether nobody has looked at a swatch yet.
func (c *ChartReading) Unseen(nth int) bool { return c.Readings.Swatches[nth].LeftOut == notLooked }

// NextUnseen is the next swatch after one that nobody has looked at yet, or -1.
func (c *ChartReading) NextUnseen(after int) int {
	n := len(c.Readings.Swatches)
	for i := 1; i < n; i++ {
		if nth := (after + i) % n; c.Unseen(nth) {
			return nth
		}
	}
	return -1
}

// errNoReadings is for a fit without charts.
var errNoReadings = errors.New("no chart has been read: open a photograph of one, or say what you see on it")

// readingsOf are copies of the readings, for a fit beside the window.
func readingsOf(charts []ChartReading) []swatch.Readings {
	out := make([]swatch.Readings, len(charts))
	for i, c := range charts {
		out[i] = c.Readings
		out[i].Swatches = slices.Clone(c.Readings.Swatches)
	}
	return out
}
