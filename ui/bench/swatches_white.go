package bench

import (
	"context"
	"errors"

	"fyne.io/fyne/v2/lang"

	"undercoat/layout"
	"undercoat/ui/session"
)

// showWhite offers to go by a white paper in the picked chart's photograph, or no more.
func (r *readingsPart) showWhite(c *session.ChartReading) {
	setVisible(r.white, c.HasPhoto())
	enable(r.white, !r.step.errand.busy())
	r.white.SetText(lang.X("white.ask", "White paper..."))
	if c.HasWhite() {
		r.white.SetText(lang.X("white.without", "Read it without the white paper"))
	}
}

// askWhite has the white paper pointed at, or lets it go.
func (r *readingsPart) askWhite() {
	p, c := r.step, r.chart()
	if c.HasWhite() {
		r.readAgain(nil)
		return
	}
	at, wide := *c, p.bench.screenWide()
	send(p.errand, lang.X("white.opening", "Opening"), func(ctx context.Context, progress func(float64)) (t turned, err error) {
		photo, err := at.Photo(ctx)
		if err != nil {
			return t, err
		}
		progress(0.7)
		t.view, t.w, t.h, err = photo.View(ctx, wide)
		return t, err
	}, func(t turned) { p.bench.unasked(func() { r.pickWhite(t) })() }, p.bench.complain)
}

func (r *readingsPart) pickWhite(t turned) {
	r.step.bench.pickCorners(t, cornersRequest{
		title: lang.X("white.title", "Where is the white paper?"),
		hint: lang.X("white.hint",
			"Drag the corners so that only white paper lies between them: no edge, no shadow, no print. Its light says what white is. Tab goes from corner to corner; arrow keys move one."),
		use:   lang.X("white.use", "Go by this paper"),
		first: smallCorners(t.w, t.h),
		check: session.CheckWhite,
		then:  func(corners [4]layout.PicturePoint) { r.readAgain(&corners) },
	})
}

// smallCorners are those of a patch in the middle, to be dragged to where it belongs.
func smallCorners(w, h int) [4]layout.PicturePoint {
	const from, to = 0.45, 0.55
	x0, x1, y0, y1 := from*float64(w), to*float64(w), from*float64(h), to*float64(h)
	return [4]layout.PicturePoint{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// readAgain reads the picked chart's photograph again by a white paper, or without one.
func (r *readingsPart) readAgain(paper *[4]layout.PicturePoint) {
	p, b := r.step, r.step.bench
	nth, of := p.picked, p.all.answers
	c, machine := p.all.readings[nth], b.s.Document().Machine
	c.Readings.Swatches = append(c.Readings.Swatches[:0:0], c.Readings.Swatches...)
	send(p.errand, lang.X("reading.reading", "Reading"), func(ctx context.Context, progress func(float64)) (session.ChartReading, error) {
		photo, err := c.Photo(ctx)
		if err != nil {
			return c, err
		}
		progress(0.5)
		return c.WithWhite(ctx, photo, machine, paper)
	}, func(again session.ChartReading) {
		if p.all.answers != of {
			b.complain(errors.New(lang.X("white.changed", "the readings have changed meanwhile: mark the white paper again")))
			return
		}
		b.hush()
		p.all.readings[nth] = again
		p.all.answered()
		p.pickChart(nth)
	}, b.complain)
}
