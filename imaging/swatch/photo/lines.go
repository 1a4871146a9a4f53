package photo

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// LineResult is what a photograph tells of a line chart.
type LineResult struct {
	Readings swatch.Readings
	Corners  [4]layout.PicturePoint // the chart's marks in the photograph, in the chart's order
	Found    bool                   // the corners were found, not given
	Mirrored bool
	Quarters int       // clockwise turns that would set the photograph upright, 0..3
	PerMM    float64   // pixels of the photograph to a millimetre, in the middle
	Soft     layout.MM // standard deviation of the photograph's blur, as its marks show it
	Cautions []string
}

// ReadLines measures every line of a line chart in a photograph. One that cannot be
// measured stays in the readings with the reason; an error means that none can. Of the
// options, white and top coat do not count: widths ask for no true colours.
func ReadLines(ctx context.Context, pic *picture.Picture, chart swatch.Chart, o Options) (LineResult, error) {
	if err := chart.Validate(); err != nil {
		return LineResult{}, fmt.Errorf("chart: %w", err)
	}
	if chart.Kind != swatch.Lines {
		return LineResult{}, errors.New("the chart has swatches, not lines: read their colours")
	}
	if err := o.validate(pic, chart); err != nil {
		return LineResult{}, err
	}
	light, err := pic.RGB(ctx, picture.Turn{}, colour.Stored{R: 255, G: 255, B: 255})
	if err != nil {
		return LineResult{}, err
	}
	view, err := locate(ctx, light, chart, o.Corners)
	if err != nil {
		return LineResult{}, err
	}
	r := reader{light: light, chart: chart, view: view, options: o}
	return r.readLines(ctx)
}

func (r reader) readLines(ctx context.Context) (LineResult, error) {
	profiles, err := r.lineProfiles(ctx)
	if err != nil {
		return LineResult{}, err
	}
	perMM := r.view.perMM(layout.Point{})
	powers := make([]float64, len(profiles))
	for i, s := range r.chart.Swatches {
		powers[i] = s.Setting.PowerPercent
	}
	level := commonLevel(profiles, powers)
	soft := r.softness(level.channel)
	level = level.beneathBlur(profiles, float64(soft))
	res := LineResult{
		Corners: r.view.corners, Found: r.view.found, Mirrored: r.view.mirrored, Quarters: r.view.quarters(),
		PerMM: perMM, Soft: soft,
	}
	m := r.options.machine(r.chart)
	res.Readings = swatch.Readings{Machine: &m, Photo: r.options.Facts}
	var widths, narrow []float64 // in pixels
	faint, other := "", ""       // the first reason of either kind
	for i, s := range r.chart.Swatches {
		reading := swatch.Reading{ID: s.ID, Setting: s.Setting, OpticalPowerW: m.OpticalPowerW}
		w := measure(profiles[i], level, float64(soft))
		if w.reason == "" && level.again[i] {
			w = lineWidth{reason: "changed again in its middle, scorched or down to a coat that stands out less: lines of less power tell more"}
		}
		if reading.LeftOut = w.reason; w.reason == "" {
			reading.Width, reading.WidthScatter = layout.MM(w.width), layout.MM(w.scatter)
			widths = append(widths, w.width*perMM)
		} else if w.faint {
			faint = cmp.Or(faint, s.ID+" is "+w.reason)
		} else {
			other = cmp.Or(other, s.ID+" is "+w.reason)
		}
		if w.narrow {
			narrow = append(narrow, w.width*perMM)
		}
		res.Readings.Swatches = append(res.Readings.Swatches, reading)
	}
	if len(widths) == 0 {
		return LineResult{}, fmt.Errorf("none of the %d lines can be measured, %s: take another photograph, so near that a line is %.0f pixels wide or more", len(r.chart.Swatches), cmp.Or(other, faint), fairWidth)
	}
	res.Cautions = r.lineCautions(widths, narrow, perMM)
	return res, nil
}

// fairWidth is how many pixels wide most lines should be, so that a tenth of a pixel
// on either side is a few hundredths of a line.
const fairWidth = 6.0

func (r reader) lineCautions(widths, narrow []float64, perMM float64) []string {
	var all []string
	if n := len(widths); n < 3 {
		all = append(all, fmt.Sprintf("only %d of %d lines could be measured, and the beam asks for 3 or more: burn lines of more powers or take another photograph", n, len(r.chart.Swatches)))
	}
	if mid := median(append(narrow, widths...)); mid < fairWidth {
		need := math.Ceil(perMM*fairWidth/mid/5) * 5
		all = append(all, fmt.Sprintf("the photograph is coarse for these lines, with %.0f pixels to a millimetre most are under %.1f pixels wide: go nearer or burn smaller swatches, so that a millimetre takes %.0f pixels or more", perMM, fairWidth, need))
	}
	if r.chart.MarkSide > 0 && !r.view.found && r.view.likeness < likely/2 {
		all = append(all, "the marks are not seen at the corners that were given: check them")
	}
	return all
}

// lineProfiles are the profiles of the lines of each swatch.
func (r reader) lineProfiles(ctx context.Context) ([][]lineProfile, error) {
	all := make([][]lineProfile, len(r.chart.Swatches))
	err := plane.SplitRows(ctx, len(all), func(ctx context.Context, from, to int) error {
		for i := from; i < to; i++ {
			areas, err := r.chart.LineAreas(r.chart.Swatches[i])
			if err != nil {
				return err
			}
			reach := float64(r.chart.Swatches[i].Size.H)
			for j := 1; j < len(areas); j++ {
				reach = min(reach, 0.45*float64(areas[j-1].Centre.Y-areas[j].Centre.Y))
			}
			for _, a := range areas {
				if err := ctx.Err(); err != nil {
					return err
				}
				all[i] = append(all[i], r.lineProfile(a, reach))
			}
		}
		return nil
	})
	return all, err
}
