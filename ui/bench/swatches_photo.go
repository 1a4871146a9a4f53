package bench

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/imaging/swatch"
	chartphoto "undercoat/imaging/swatch/photo"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// photoStep takes in what the swatches of burned charts look like: from photographs,
// from the maker's eye, or from files of readings.
type photoStep struct {
	*form
	all      *swatchesDrawer
	section  *widgets.Drawer
	chart    *widgets.Remarks
	open     *widget.Button
	byEye    *widget.Button
	kept     *widget.Button // opens what the library keeps of the stack's charts
	errand   *errand
	list     *widgets.PickList // of the charts read so far
	picked   int               // of them
	readings *readingsPart
}

func newPhotoStep(all *swatchesDrawer) *photoStep {
	p := &photoStep{all: all}
	p.form, p.section = all.section(lang.X("reading.step", "2. Photograph"), func(job.Document) string { return p.summary() })
	p.errand = p.bench.newErrand(all.again)
	p.chart = p.remarks()
	p.open = widget.NewButtonWithIcon(lang.X("reading.open", "Open a photograph of the chart..."), theme.MediaPhotoIcon(), p.ask)
	p.byEye = widget.NewButton(lang.X("reading.byeye", "Judge by eye"), p.judge)
	p.box.Add(p.open)
	p.buttons(widget.NewButton(lang.X("reading.file", "Open chart.json..."), p.askChart), p.byEye)
	p.kept = widget.NewButton(lang.X("reading.kept", "Open its readings"), p.openKept)
	p.box.Add(p.kept)
	p.when(p.kept, p.hasKept)
	p.box.Add(p.errand.box)
	p.list = widgets.NewPickList()
	p.list.OnPicked = p.pickChart
	p.box.Add(p.list)
	p.readings = newReadingsPart(p)
	p.shows = append(p.shows, p.showCharts)
	return p
}

func (p *photoStep) summary() string {
	n := len(p.all.readings)
	switch n {
	case 0:
		return lang.X("reading.none", "none read")
	case 1:
		return readText(p.all.readings[0])
	}
	return lang.X("reading.several", "{{.N}} charts", map[string]any{"N": n})
}

func readText(r session.ChartReading) string {
	return lang.X("reading.used", "{{.Used}} of {{.All}} read", map[string]any{"Used": r.Used(), "All": len(r.Readings.Swatches)})
}

func (p *photoStep) showCharts(job.Document) {
	c := p.all.chart
	if c == nil {
		p.chart.Set(said(lang.X("reading.nochart", "Make a chart above, or open the chart.json of one that is burned already.")))
	} else {
		p.chart.Set(said(lang.X("reading.chart", "Chart: {{.Name}}, {{.N}} swatches on {{.Size}}.", map[string]any{
			"Name": p.all.chartName, "N": len(c.Swatches), "Size": layout.Millimetre.FormatSize(c.Size),
		})))
	}
	readable := c != nil && c.Kind != swatch.Lines && !p.errand.busy()
	enable(p.open, readable)
	enable(p.byEye, readable && c.Kind == swatch.Solid)
	picks := make([]widgets.Pick, len(p.all.readings))
	for i, r := range p.all.readings {
		picks[i] = widgets.Pick{Label: r.Name, More: readText(r)}
	}
	p.list.Set(picks, p.picked)
}

// pickChart shows the readings of a chart, the first being 0.
func (p *photoStep) pickChart(nth int) {
	p.picked = nth
	p.readings.pick(-1)
}

// ask asks for a photograph.
func (p *photoStep) ask() {
	p.bench.askPath(lang.X("reading.open", "Open a photograph of the chart..."), append([]string{chartEnding}, pictureEndings...), func(path string) { p.take(path) })
}

// askChart asks for the file of a chart or of readings.
func (p *photoStep) askChart() {
	p.bench.askPath(lang.X("reading.file", "Open chart.json..."), []string{chartEnding}, func(path string) { p.take(path) })
}

const chartEnding = ".json"

// take takes in a photograph of the chart, or a file of a chart or of readings. The
// channel is closed once a photograph has been read; it is nil where none is.
func (p *photoStep) take(path string) (ended <-chan struct{}) {
	p.bench.folder = filepath.Dir(path)
	p.all.drawer.SetOpen(true)
	if strings.EqualFold(filepath.Ext(path), chartEnding) {
		chart, readings, err := session.OpenSwatches(path)
		switch {
		case err != nil:
			p.bench.complain(err)
		case chart != nil:
			p.bench.hush()
			p.all.setChart(*chart, filepath.Base(path))
		default:
			p.bench.hush()
			p.all.addReading(*readings)
		}
		return nil
	}
	if p.all.chart == nil {
		return nil
	}
	return p.read(func(ctx context.Context) (*session.Photo, error) { return session.OpenPhoto(ctx, path) }, nil)
}

// photographed is a photograph and what it told, or why it told nothing.
type photographed struct {
	photo   *session.Photo
	reading session.ChartReading
	err     error
	whole   turned // to point at the corners on, where the chart was not found
}

// hasKept tells whether the library keeps readings of the job's stack that do not lie on
// the desk.
func (p *photoStep) hasKept(d job.Document) bool {
	if !session.HasKeptReadings(d) {
		return false
	}
	for _, name := range d.Stack.Curve.Origin.Readings {
		if !slices.ContainsFunc(p.all.readings, func(r session.ChartReading) bool { return r.Name == name }) {
			return true
		}
	}
	return false
}

// openKept takes in the readings that the library keeps of the stack's charts.
func (p *photoStep) openKept() {
	charts, err := p.bench.s.KeptReadings(library.Open())
	p.bench.hush()
	for _, c := range charts {
		if !slices.ContainsFunc(p.all.readings, c.SameChart) {
			p.all.addReading(c)
		}
	}
	if err != nil {
		p.bench.complain(err)
	}
}

// read reads a photograph of the chart. Where its marks are not found it asks for them.
func (p *photoStep) read(open func(context.Context) (*session.Photo, error), corners *[4]layout.PicturePoint) (ended <-chan struct{}) {
	b, chart := p.bench, *p.all.chart
	machine, wide := b.s.Document().Machine, b.screenWide()
	return send(p.errand, lang.X("reading.reading", "Reading"), func(ctx context.Context, progress func(float64)) (t photographed, err error) {
		if t.photo, err = open(ctx); err != nil {
			return t, err
		}
		progress(0.5)
		if t.reading, t.err = session.ReadChart(ctx, t.photo, chart, machine, session.Marked{Corners: corners}); t.err == nil {
			return t, nil
		}
		if ctx.Err() != nil {
			return t, ctx.Err()
		}
		progress(0.8)
		t.whole.view, t.whole.w, t.whole.h, err = t.photo.View(ctx, wide)
		return t, err
	}, p.took, b.complain)
}

// took takes in what a photograph told.
func (p *photoStep) took(t photographed) {
	b := p.bench
	switch {
	case t.err == nil:
		b.hush()
		p.all.addReading(t.reading)
	case errors.Is(t.err, chartphoto.ErrNoChart):
		b.unasked(func() { p.askCorners(t) })()
	default:
		b.complain(t.err)
		b.notice.SetAction(lang.X("reading.point", "Point at its corners"), b.unasked(func() {
			b.hush()
			p.askCorners(t)
		}))
	}
}

// askCorners has the marks of the chart pointed at.
func (p *photoStep) askCorners(t photographed) {
	p.bench.pickCorners(t.whole, cornersRequest{
		title: lang.X("reading.corners", "Where are the corners of the chart?"),
		hint: lang.X("reading.cornershint",
			"The corner marks were not found. Drag each corner onto the outer corner of a mark; the mark with a hole in it is the chart's upper left. Tab goes from corner to corner; arrow keys move one."),
		use:   lang.X("reading.read", "Read the chart"),
		first: insetCorners(t.whole.w, t.whole.h),
		names: cornerNames(),
		check: someRectangle,
		then: func(corners [4]layout.PicturePoint) {
			p.read(func(context.Context) (*session.Photo, error) { return t.photo, nil }, &corners)
		},
	})
}

// cornerNames are what the corners of something that may lie any way round are called.
func cornerNames() [4]string {
	return [4]string{
		lang.X("corner.upperleft", "upper left"), lang.X("corner.upperright", "upper right"),
		lang.X("corner.lowerright", "lower right"), lang.X("corner.lowerleft", "lower left"),
	}
}

// judge begins readings by eye.
func (p *photoStep) judge() {
	name := lang.X("reading.eyename", "{{.Name}}, by eye", map[string]any{"Name": p.all.chartName})
	r := session.ByEye(name, *p.all.chart, p.bench.s.Document().Machine)
	if begun := slices.IndexFunc(p.all.readings, r.SameChart); begun >= 0 {
		p.pickChart(begun)
		p.bench.Reveal(p.section)
		return
	}
	p.all.addReading(r)
	p.readings.pick(0)
}

// remove lets the picked chart go.
func (p *photoStep) remove() {
	p.all.readings = append(p.all.readings[:p.picked:p.picked], p.all.readings[p.picked+1:]...)
	p.all.answered()
	p.pickChart(min(p.picked, max(0, len(p.all.readings)-1)))
}

// screenWide is about how many pixels a picture over the window can use.
func (b *Bench) screenWide() int {
	size := b.win.Canvas().Size()
	return max(1, int(max(size.Width, size.Height)*b.win.Canvas().Scale()))
}
