package bench

import (
	"errors"
	"slices"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// swatchesDrawer goes from a chart to burn, over what its swatches look like, to the
// stack's curve. The charts it knows belong to the window and not to the job, which
// keeps the curve.
type swatchesDrawer struct {
	*form
	drawer *widgets.Drawer
	made   *chartStep
	photos *photoStep
	fit    *fitStep

	chart     *swatch.Chart          // that photographs are read with; nil: none yet
	chartName string                 // for people
	readings  []session.ChartReading // of the charts read so far
	answers   int                    // rises with every change of the readings
	kept      int                    // the answers that the library keeps; -1: none

	desk *session.Desk // nil: charts are forgotten with the window
}

func newSwatchesDrawer(b *Bench) *swatchesDrawer {
	s := &swatchesDrawer{form: b.newForm(), kept: -1}
	s.made = newChartStep(s)
	s.photos = newPhotoStep(s)
	s.fit = newFitStep(s)
	s.drawer = widgets.NewDrawer(lang.X("drawer.swatches", "Swatches"), s.box)
	return s
}

func (s *swatchesDrawer) widget() *widgets.Drawer { return s.drawer }

func (s *swatchesDrawer) refresh(d job.Document, _ job.Plan) {
	s.made.follow(d)
	s.show(d)
	s.drawer.SetSummary(calibrationText(d.Stack.Curve))
}

// again shows what changed in the drawer and not in the job.
func (s *swatchesDrawer) again() {
	s.show(s.bench.s.Document())
	s.box.Refresh()
	s.bench.fitColumn()
}

// calibrationText says in a line whether a curve was measured, and on what.
func calibrationText(c coat.Curve) string {
	switch o := c.Origin; {
	case !c.Calibrated:
		return lang.X("swatches.not", "not calibrated")
	case o == nil || o.Date == "":
		return lang.X("swatches.done", "calibrated")
	default:
		return lang.X("swatches.dated", "calibrated {{.Date}}, {{.N}} swatches", map[string]any{"Date": o.Date, "N": o.Swatches})
	}
}

// setChart takes a chart to read photographs with.
func (s *swatchesDrawer) setChart(c swatch.Chart, name string) {
	s.chart, s.chartName = &c, name
	s.keepOnDesk()
	next := s.photos.section
	if c.Kind == swatch.Lines {
		next = s.fit.section // a photograph is too coarse for lines
	}
	next.SetOpen(true)
	s.again()
	s.bench.Reveal(next)
}

// addReading takes the readings of one more chart, or of one read before anew.
func (s *swatchesDrawer) addReading(r session.ChartReading) {
	nth := slices.IndexFunc(s.readings, r.SameChart)
	if nth < 0 {
		nth = len(s.readings)
		s.readings = append(s.readings, r)
	}
	s.readings[nth] = r
	s.answered()
	s.photos.section.SetOpen(true)
	s.fit.section.SetOpen(true)
	s.photos.pickChart(nth)
	s.bench.Reveal(s.photos.section)
}

// answered is told that the readings have changed.
func (s *swatchesDrawer) answered() {
	s.answers++
	s.keepOnDesk()
}

// keepOnDesk keeps the charts for the next start. What the library keeps can be opened
// from there.
func (s *swatchesDrawer) keepOnDesk() {
	if s.desk == nil {
		return
	}
	on := session.Swatches{Chart: s.chart, ChartName: s.chartName}
	if s.kept != s.answers {
		on.Readings = s.readings
	}
	s.desk.Keep(on)
}

// keptAs is told that the library keeps the readings as they are, under their names.
func (s *swatchesDrawer) keptAs(names []string) {
	for i, name := range names {
		s.readings[i].Name = name
	}
	s.kept = s.answers
	s.keepOnDesk()
}

// takeDesk takes up the charts of the last time and keeps those of this. A desk that
// another window has stays with it.
func (s *swatchesDrawer) takeDesk(open func(failed func(error)) (*session.Desk, error)) {
	if open == nil {
		return
	}
	b := s.bench
	desk, err := open(func(err error) { b.do(func() { b.complain(err) }) })
	if errors.As(err, new(*job.LockedError)) {
		return
	}
	if err != nil {
		b.complain(err)
		return
	}
	s.desk = desk
	on, err := desk.Swatches()
	if err != nil {
		b.complain(err)
	}
	s.chart, s.chartName, s.readings = on.Chart, on.ChartName, on.Readings
	if len(s.readings) > 0 {
		s.photos.section.SetOpen(true)
	}
	s.show(b.s.Document())
}

// MakeChart writes the chart that the Swatches drawer lays out into a new folder inside
// dir. The channel is closed once that has ended, one way or the other; it is nil where
// nothing can be made.
func (b *Bench) MakeChart(dir string) (ended <-chan struct{}) { return b.swatches.made.writeIn(dir) }

// ReadSwatches reads a photograph of the chart made last, or takes in a file of a chart
// or of readings. The channel is closed once a photograph has been read; it is nil where
// none is.
func (b *Bench) ReadSwatches(path string) (ended <-chan struct{}) {
	return b.swatches.photos.take(path)
}

// FitSwatches finds the curve from what was read. The channel is closed once that has
// ended; it is nil while another fit runs.
func (b *Bench) FitSwatches() (ended <-chan struct{}) { return b.swatches.fit.run() }

// CompareWith opens a photograph of the finished panel and asks for the panel's corners
// in it. The channel is closed once it asks; it is nil while another comparison runs.
func (b *Bench) CompareWith(path string) (ended <-chan struct{}) {
	return b.handOff.finished.open(path)
}
