package sheet

import (
	"fmt"
	"io"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// Chart writes the sheet that goes to the machine with a chart of swatches: where each
// lies, what to burn in which order, and what to beware of. Of the options it takes the
// unit and the paper.
func Chart(w io.Writer, c swatch.Chart, o Options) error {
	name := "Chart of swatches"
	p, err := newPaper(name, o, made)
	if err != nil {
		return err
	}
	p.pdf.AddPage()
	y := p.chartHead(c, name)
	y = p.figures(y, []fact{
		{"chart", o.Unit.FormatSize(c.Size)},
		{"swatches", fmt.Sprint(len(c.Swatches))},
		{"rasters", fmt.Sprint(len(c.Rasters))},
		{"marks to photograph", "4, one with a hole"},
	})
	high := min(86.0, p.h*0.31)
	p.drawChart(c, margin, y, p.w-2*margin, high)
	y += high + 4
	f := &flow{paper: p, cols: 2, top: y, y: y}
	s := chartSheet{f, c}
	s.cautions()
	s.photograph()
	s.rasters()
	s.swatches()
	p.foot("Chart of swatches  \u00b7  Undercoat")
	return p.write(w)
}

func (p *paper) chartHead(c swatch.Chart, name string) float64 {
	y := margin - 4
	stack := ""
	if c.Stack != nil {
		var paints []colour.Stored
		for _, coat := range c.Stack.Coats {
			paints = append(paints, coat.Colour)
		}
		p.stripe(y, append(paints, c.Stack.Ground.Colour))
		stack = c.Stack.Name
	}
	y += 9
	p.at(face{size: 9, shade: grey}, margin, y, "chart sheet")
	p.ended(face{size: 9, shade: grey}, p.w-margin, y, p.shortened(label, stack, 110))
	y += 9
	p.at(title, margin, y, name)
	return y + 4
}

// drawChart shows the chart to scale in a box, each swatch with its id.
func (p *paper) drawChart(c swatch.Chart, x, y, w, h float64) {
	scale := min(w/float64(c.Size.W), h/float64(c.Size.H))
	left, top := x+(w-scale*float64(c.Size.W))/2, y
	put := func(a layout.Area, fill colour.Stored, rim float64) (float64, float64) {
		ax := left + scale*float64(c.Size.W/2+a.Centre.X-a.Size.W/2)
		ay := top + scale*float64(c.Size.H/2-a.Centre.Y-a.Size.H/2)
		p.box(ax, ay, scale*float64(a.Size.W), scale*float64(a.Size.H), fill, rim, grey)
		return ax + scale*float64(a.Size.W)/2, ay + scale*float64(a.Size.H)/2
	}
	put(layout.Area{Size: c.Size}, white, 0.2)
	if c.MarkSide > 0 {
		for _, mark := range c.MarkAreas() {
			put(mark, ink, 0)
		}
		put(c.MarkHole(), white, 0)
	}
	for _, s := range c.Swatches {
		mx, my := put(s.Area(), pale, 0.15)
		p.centred(smaller, mx, my+0.8, s.ID)
	}
}

type chartSheet struct {
	*flow
	chart swatch.Chart
}

func (s chartSheet) rasters() {
	s.head("Burn in this order, all centred on the same spot", 12)
	if m := s.chart.Machine; m != nil {
		s.item("machine", m.Name)
	}
	cells := []cell{{0, 0.42, false}, {0.42, 0.58, true}, {0.6, 1, true}}
	s.row(smaller, cells, "file", "power", "speed, pitch, passes")
	for _, r := range s.chart.Rasters {
		s.row(small, cells, r.File, fmt.Sprintf("%.4g %%", r.Setting.PowerPercent), motion(r.Setting))
	}
	if len(s.chart.Rasters) > 0 && s.chart.Rasters[0].EightBit {
		s.text(small, "Greys in the raster are shares of the power, black is all of it.")
	}
}

func motion(s burn.Setting) string {
	return fmt.Sprintf("%.6g mm/min, %.4g mm, %d", s.Speed.PerMinute(), float64(s.Pitch), s.Passes)
}

func (s chartSheet) photograph() {
	s.head("When it is burned", 12)
	s.point(small, "Wipe it as you will wipe the panel.")
	s.point(small, "Photograph it from straight above in even light, without flash and without shine, with all four corner marks in the picture.")
	s.point(small, "Keep chart.json: the photograph is read with it.")
}

func (s chartSheet) swatches() {
	s.head("Swatches, from the chart's centre, x to the right, y up", 14)
	cells := []cell{{0, 0.1, false}, {0.1, 0.3, true}, {0.3, 0.5, true}, {0.5, 0.66, true}, {0.66, 1, true}}
	s.row(smaller, cells, "", "x mm", "y mm", "power", "speed, pitch, passes")
	for _, w := range s.chart.Swatches {
		power := fmt.Sprintf("%.4g %%", w.Setting.PowerPercent)
		if w.Tint > 0 {
			power = fmt.Sprintf("tint %.0f %%", 100*w.Tint)
		}
		s.row(small, cells, w.ID, fmt.Sprintf("%.2f", float64(w.Centre.X)), fmt.Sprintf("%.2f", float64(w.Centre.Y)), power, motion(w.Setting))
	}
}

func (s chartSheet) cautions() {
	s.head("Before you burn", 12)
	for _, c := range append(s.chart.Cautions(), export.Cautions()...) {
		s.point(small, c)
	}
}
