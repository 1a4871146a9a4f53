package bench

import (
	"fmt"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// status is the line at the foot of the window.
type status struct {
	object *widgets.StatusLine
	unit   layout.Unit

	follows, reads string // what is being worked at; empty: nothing
}

// The segments of the line, in order.
const (
	dotsSegment = iota
	timeSegment
	fitSegment
	cautionSegment
	pointSegment
	workSegment
)

func newStatus(cautions func()) *status {
	s := &status{object: widgets.NewStatusLine(
		"88888 x 88888 dots of 0.0888 mm",
		"burns at most 888 h 88 min",
		"does not fit",
		"88 cautions",
		"x \u22128888.88 mm   y \u22128888.88 mm",
		"opening a-picture.jpeg",
	)}
	s.object.SetAction(cautionSegment, cautions)
	return s
}

func (s *status) refresh(d job.Document, p job.Plan) {
	s.unit = d.UnitOf()
	g := p.Placement.Grid
	s.object.Set(dotsSegment, lang.X("status.dots", "{{.Cols}} x {{.Rows}} dots of {{.Pitch}} mm", map[string]any{
		"Cols": g.Cols, "Rows": g.Rows, "Pitch": fmt.Sprintf("%.4g", float64(g.Pitch)),
	}), widgets.Plain)
	s.object.Set(timeSegment, lang.X("status.time", "burns at most {{.Time}}", map[string]any{
		"Time": layout.FormatDuration(d.MostBurnTime(g)),
	}), widgets.Plain)
	if p.Fits {
		s.object.Set(fitSegment, fitText(p.Fit), widgets.Plain)
	} else {
		s.object.Set(fitSegment, fitText(p.Fit), widgets.Careful)
	}
	switch n := len(p.Cautions); n {
	case 0:
		s.object.Set(cautionSegment, "", widgets.Plain)
	case 1:
		s.object.Set(cautionSegment, lang.X("status.caution", "1 caution"), widgets.Careful)
	default:
		s.object.Set(cautionSegment, lang.X("status.cautions", "{{.N}} cautions", map[string]any{"N": n}), widgets.Careful)
	}
}

// point shows where the pointer is on the panel.
func (s *status) point(p layout.Point, inside bool) {
	if !inside {
		s.object.Set(pointSegment, "", widgets.Plain)
		return
	}
	s.object.Set(pointSegment, "x "+signed(s.unit, p.X)+"   y "+signed(s.unit, p.Y), widgets.Plain)
}

// signed writes a coordinate; lengths themselves are never negative.
func signed(u layout.Unit, l layout.MM) string {
	if l < 0 {
		return minus("-" + u.Format(-l))
	}
	return u.Format(l)
}

// working tells whether a more exact picture of a view follows.
func (s *status) working(on bool, v session.View) {
	s.follows = ""
	switch {
	case on && v == session.DotsView:
		s.follows = lang.X("status.dotsfollow", "dots follow")
	case on && v == session.ProofView:
		s.follows = lang.X("status.prooffollows", "exact proof follows")
	}
	s.showWork()
}

// opening tells which file is being read; an empty name ends that.
func (s *status) opening(name string) {
	s.reads = ""
	if name != "" {
		s.reads = lang.X("status.opening", "opening {{.Name}}", map[string]any{"Name": name})
	}
	s.showWork()
}

func (s *status) showWork() {
	text := s.reads
	if text == "" {
		text = s.follows
	}
	s.object.Set(workSegment, text, widgets.Plain)
}
