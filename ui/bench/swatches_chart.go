package bench

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// chartStep lays a chart out and writes it. What is typed here belongs to no document;
// lines that nobody touched follow the job.
type chartStep struct {
	*form
	all     *swatchesDrawer
	section *widgets.Drawer

	kind   *widget.Select
	tints  *widgets.Field
	powers *widgets.Field
	speeds *widgets.Field
	pitch  *widgets.Field
	passes *widgets.Field
	scrap  *widgets.Field
	margin *widgets.Field
	oneBit *widgets.Named

	texts   map[*widgets.Field]string                    // that count, all of which can be read
	follows map[*widgets.Field]func(job.Document) string // until they are touched
	unit    layout.Unit
	facts   *widgets.Remarks
	start   *widget.Button
	shown   swatch.Request // that the facts are of
	shownIn layout.Unit
	laid    bool           // the chart could be laid out
	blamed  *widgets.Field // below which it says why not; nil: none
	why     error
	errand  *errand
}

// The chart that is proposed: as many powers as a scrap of a postcard's size holds.
const (
	usualPowers              = "4:100:4"
	usualMargin    layout.MM = 3
	usualScrapTall layout.MM = 90
	usualScrapWide layout.MM = 120
)

func newChartStep(all *swatchesDrawer) *chartStep {
	c := &chartStep{all: all, texts: map[*widgets.Field]string{}, follows: map[*widgets.Field]func(job.Document) string{}}
	c.form, c.section = all.section(lang.X("chart.step", "1. Chart"), func(job.Document) string { return c.summary() })
	c.section.SetOpen(true)
	b := c.bench
	c.errand = b.newErrand(c.turned)

	kinds := chartKinds()
	c.kind = widget.NewSelect(labelsOf(kinds), nil)
	c.kind.SetSelectedIndex(0)
	c.kind.OnChanged = func(string) {
		c.follow(b.s.Document())
		all.again()
	}
	kind := widgets.NewNamed(lang.X("chart.kind", "Kind"), c.kind)
	c.box.Add(kind)
	c.powers = c.line(lang.X("chart.powers", "Powers"), "%", usualPowers, func(text string) error { _, err := swatch.ParsePowers(text); return err })
	c.tints = c.line(lang.X("chart.tints", "Tints"), "%", "5:95:10", func(text string) error { _, err := swatch.ParseTints(text); return err })
	c.speeds = c.line(lang.X("chart.speeds", "Speeds"), "", "", func(text string) error { _, err := swatch.ParseSpeeds(text); return err })
	c.pitch = c.line(lang.X("chart.pitches", "Pitches"), "mm", "", func(text string) error { _, err := swatch.ParsePitches(text); return err })
	c.passes = c.line(lang.X("chart.passes", "Passes"), "", "1", func(text string) error { _, err := swatch.ParsePasses(text); return err })
	c.scrap = c.line(lang.X("chart.scrap", "Scrap size"), "", "", func(text string) error { _, err := layout.ParseSize(text, c.unit); return err })
	c.margin = c.line(lang.X("chart.margin", "Margin"), "", "", func(text string) error { _, err := layout.ParseLength(text, c.unit); return err })
	c.follows[c.powers] = func(d job.Document) string {
		if c.chosenKind() == swatch.Tints {
			return plainNumber(d.Setting.PowerPercent) // a tint row is burned at one
		}
		return usualPowers
	}
	c.follows[c.speeds] = func(d job.Document) string { return plainNumber(d.Setting.Speed.PerMinute()) + " mm/min" }
	c.follows[c.pitch] = func(d job.Document) string { return plainNumber(float64(d.Setting.Pitch)) }
	c.follows[c.scrap] = func(d job.Document) string {
		return d.UnitOf().FormatSize(layout.Size{W: usualScrapWide, H: usualScrapTall})
	}
	c.follows[c.margin] = func(d job.Document) string { return d.UnitOf().Format(usualMargin) }
	c.oneBit = widgets.NewNamed(lang.X("chart.rasters", "Rasters"), widget.NewCheck(lang.X("chart.onebit", "one for each setting"), func(bool) { all.again() }))
	c.box.Add(c.oneBit)
	c.when(c.oneBit, func(d job.Document) bool { return d.Machine.PowerPerPixel })
	c.when(c.tints, func(job.Document) bool { return c.chosenKind() == swatch.Tints })

	c.facts = c.remarks()
	c.start = widget.NewButtonWithIcon(lang.X("chart.make", "Make the chart..."), theme.DocumentSaveIcon(), c.ask)
	c.start.Importance = widget.HighImportance
	c.box.Add(c.start)
	c.box.Add(c.errand.box)
	c.shows = append(c.shows, c.layOut)
	return c
}

func chartKinds() []option[swatch.Kind] {
	return []option[swatch.Kind]{
		{swatch.Solid, lang.X("chart.solid", "Solid squares, for the curve")},
		{swatch.Tints, lang.X("chart.tintrow", "Even tints, for the dots")},
		{swatch.Lines, lang.X("chart.lines", "Single lines, for the beam")},
	}
}

func (c *chartStep) chosenKind() swatch.Kind {
	return chartKinds()[max(0, c.kind.SelectedIndex())].value
}

// line adds a line that a chart is made of.
func (c *chartStep) line(name, unit, text string, check func(string) error) *widgets.Field {
	f := widgets.NewField(name, unit)
	c.set(f, text)
	f.Validate = func(text string) error {
		if f == c.blamed && text == c.texts[f] {
			return c.why
		}
		return check(text)
	}
	f.OnResized = func() {
		c.offer()
		c.bench.fitColumn()
	}
	f.OnCommitted = func(text string) {
		delete(c.follows, f)
		c.texts[f] = text
		c.all.again()
	}
	c.box.Add(f)
	return f
}

// set shows a text that counts in a line.
func (c *chartStep) set(f *widgets.Field, text string) {
	c.texts[f] = text
	f.SetText(text)
}

// follow takes over from the job what nobody has touched here.
func (c *chartStep) follow(d job.Document) {
	c.unit = d.UnitOf()
	for f, text := range c.follows {
		c.set(f, text(d))
	}
}

// request is what the lines ask for of a job's stack and machine.
func (c *chartStep) request(d job.Document) (swatch.Request, error) {
	r := swatch.Request{Machine: d.Machine, Stack: &d.Stack, Kind: c.chosenKind(), OneBit: c.oneBit.Control().(*widget.Check).Checked}
	var errs [7]error
	r.Powers, errs[0] = swatch.ParsePowers(c.texts[c.powers])
	r.Speeds, errs[1] = swatch.ParseSpeeds(c.texts[c.speeds])
	r.Pitches, errs[2] = swatch.ParsePitches(c.texts[c.pitch])
	r.Passes, errs[3] = swatch.ParsePasses(c.texts[c.passes])
	r.Scrap, errs[4] = layout.ParseSize(c.texts[c.scrap], c.unit)
	r.Margin, errs[5] = layout.ParseLength(c.texts[c.margin], c.unit)
	if r.Kind == swatch.Tints {
		r.Tints, errs[6] = swatch.ParseTints(c.texts[c.tints])
	}
	return r, errors.Join(errs[:]...)
}

// lay lays the chart out.
func (c *chartStep) lay(d job.Document) (swatch.Chart, error) {
	r, err := c.request(d)
	if err != nil {
		return swatch.Chart{}, err
	}
	return swatch.New(r)
}

// layOut says what the chart will be, or below the line that is to blame why it cannot be.
func (c *chartStep) layOut(d job.Document) {
	r, err := c.request(d)
	if err == nil && c.unit == c.shownIn && reflect.DeepEqual(r, c.shown) {
		c.offer()
		return
	}
	c.shown, c.shownIn = r, c.unit
	if f := c.blamed; f != nil && f.Text() == c.texts[f] {
		f.SetProblem("")
	}
	c.blamed = nil
	chart, err := c.lay(d)
	c.laid = err == nil
	defer c.offer()
	if err != nil {
		c.facts.Set()
		if c.blamed = c.toBlame(err); c.blamed != nil {
			c.why = err
			c.blamed.SetProblem(err.Error())
		} else {
			c.facts.Set(warned(err.Error()))
		}
		return
	}
	c.facts.Set(said(lang.X("chart.facts", "{{.Swatches}} swatches of {{.Side}} on {{.Size}}, {{.Rasters}}.", map[string]any{
		"Swatches": len(chart.Swatches), "Side": c.unit.Format(chart.Swatches[0].Size.H), "Size": c.unit.FormatSize(chart.Size), "Rasters": rastersText(len(chart.Rasters)),
	})))
}

// offer lets the chart be made where nothing is in the way.
func (c *chartStep) offer() {
	ok := c.laid && !c.errand.busy()
	for _, f := range c.lines() {
		ok = ok && f.Problem() == ""
	}
	enable(c.start, ok)
}

func rastersText(n int) string {
	if n == 1 {
		return lang.X("chart.oneraster", "in one raster")
	}
	return lang.X("chart.manyrasters", "in {{.N}} rasters", map[string]any{"N": n})
}

func (c *chartStep) lines() []*widgets.Field {
	return []*widgets.Field{c.powers, c.tints, c.speeds, c.pitch, c.passes, c.scrap, c.margin}
}

// toBlame is the line that a refusal begins with, and the scrap for "30 swatches need";
// nil where it is about none of them.
func (c *chartStep) toBlame(err error) *widgets.Field {
	word, _, _ := strings.Cut(err.Error(), " ")
	if _, number := strconv.Atoi(word); number == nil {
		return c.scrap
	}
	f := map[string]*widgets.Field{
		"power": c.powers, "speed": c.speeds, "pitch": c.pitch, "passes": c.passes, "scrap:": c.scrap, "margin": c.margin, "tint": c.tints,
	}[word]
	if f == nil || !f.Visible() {
		return nil
	}
	return f
}

func (c *chartStep) summary() string {
	return lang.X("chart.summary", "{{.Powers}} %", map[string]any{"Powers": c.texts[c.powers]})
}

// turned shows that the writing has begun or ended.
func (c *chartStep) turned() { c.all.again() }

// ask asks for the folder.
func (c *chartStep) ask() {
	b := c.bench
	if c.errand.busy() {
		return
	}
	b.askFolder(lang.X("chart.here", "Make it here"), b.folder, func(folder string) { c.writeIn(folder) })
}

// writeIn writes the chart into a new folder inside dir, named after the job. The
// channel is closed once that has ended; it is nil where nothing has begun.
func (c *chartStep) writeIn(dir string) (ended <-chan struct{}) {
	if c.start.Disabled() {
		return nil
	}
	b := c.bench
	b.folder = dir
	name := strings.TrimSuffix(b.s.Document().FileName(), job.Extension)
	return c.write(filepath.Join(dir, lang.X("chart.folder", "{{.Job}} chart", map[string]any{"Job": name})), false)
}

// write writes the chart into dir; with replace, over what is there.
func (c *chartStep) write(dir string, replace bool) (ended <-chan struct{}) {
	b := c.bench
	chart, err := c.lay(b.s.Document())
	if err != nil {
		b.complain(err)
		return nil
	}
	return send(c.errand, lang.X("chart.writing", "Chart"), func(ctx context.Context, progress func(float64)) ([]string, error) {
		return job.WriteChart(ctx, dir, chart, replace, progress)
	}, func(files []string) { c.written(chart, dir, files) }, func(err error) {
		if !errors.Is(err, fs.ErrExist) {
			b.complain(err)
			return
		}
		b.notice.Tell(
			lang.X("chart.exists", "There is a chart in {{.Dir}} already.", map[string]any{"Dir": dir}),
			lang.X("chart.choose", "Replace it, or make this one in another folder."))
		b.notice.SetAction(lang.X("chart.replace", "Replace it"), func() {
			b.hush()
			c.write(dir, true)
		})
	})
}

func (c *chartStep) written(chart swatch.Chart, dir string, files []string) {
	next := lang.X("chart.next", "Burn the rasters in the order of {{.Sheet}}, then photograph the chart from straight above in even light.", map[string]any{"Sheet": job.ChartSheetFile})
	if chart.Kind == swatch.Lines {
		next = lang.X("chart.nextlines", "Burn the raster, then measure the widths of its lines under a loupe.")
	}
	c.bench.notice.Inform(lang.X("chart.written", "Wrote {{.N}} files into {{.Dir}}.", map[string]any{"N": len(files), "Dir": dir}), next)
	c.all.setChart(chart, filepath.Base(dir))
}
