package bench

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// beamPart finds how wide the beam is: from a tint row that was read, or from the widths
// of the lines of a line chart. It shows only for such charts.
type beamPart struct {
	*form
	all    *swatchesDrawer
	tints  *widget.Button
	widths *widgets.Field
	told   *widgets.Remarks
	use    *widget.Button
	result *session.FittedBeam // nil: none yet
}

func newBeamPart(all *swatchesDrawer, in *form) *beamPart {
	p := &beamPart{all: all}
	p.form = in.part(func(job.Document) bool { return p.tintRow() != nil || p.lineChart() })
	p.widths = widgets.NewField(lang.X("beam.widths", "Line widths"), "mm")
	p.widths.Validate = func(text string) error { _, err := p.fromLines(text); return err }
	p.widths.OnCommitted = func(text string) {
		if f, err := p.fromLines(text); err == nil {
			p.take(f)
		}
	}
	p.widths.OnResized = p.bench.fitColumn
	p.box.Add(p.widths)
	p.tints = widget.NewButtonWithIcon(lang.X("beam.find", "Find the beam from the tints"), theme.SearchIcon(), p.fromTints)
	p.box.Add(p.tints)
	p.told = p.remarks()
	p.use = widget.NewButtonWithIcon(lang.X("beam.use", "Use this beam"), theme.ConfirmIcon(), p.put)
	p.box.Add(p.use)
	p.when(p.widths, func(job.Document) bool { return p.lineChart() })
	p.when(p.tints, func(job.Document) bool { return p.tintRow() != nil })
	p.when(p.use, func(job.Document) bool { return p.result != nil })
	p.shows = append(p.shows, p.tell)
	return p
}

func (p *beamPart) lineChart() bool { return p.all.chart != nil && p.all.chart.Kind == swatch.Lines }

// tintRow is the tint row that was read last; nil where none was.
func (p *beamPart) tintRow() *session.ChartReading {
	for i := len(p.all.readings) - 1; i >= 0; i-- {
		if p.all.readings[i].HasTints() {
			return &p.all.readings[i]
		}
	}
	return nil
}

func (p *beamPart) tell(d job.Document) {
	if p.result == nil {
		p.told.Set()
		if p.lineChart() {
			p.told.Set(said(lang.X("beam.hint", "Measure the lines under a loupe and write their widths in rising order of power, as 0.05, 0.07, 0.08; 0 is a line that does not show.")))
		}
		return
	}
	now := lang.X("beam.found", "The beam is {{.Beam}} (give or take {{.SD}} %); the job's machine has {{.Was}}.", map[string]any{
		"Beam": beamText(*p.result), "SD": fmt.Sprintf("%.0f", 196*p.result.SD),
		"Was": fmt.Sprintf("%.3f x %.3f mm", float64(d.Machine.BeamAlong), float64(d.Machine.BeamAcross)),
	})
	p.told.Set(said(now), said(lang.X("beam.again", "A curve that was found with another beam is worth finding again with this one.")))
}

func beamText(f session.FittedBeam) string {
	if f.Along == 0 {
		return lang.X("beam.across", "{{.W}} mm across the lines", map[string]any{"W": fmt.Sprintf("%.3f", float64(f.Across))})
	}
	return fmt.Sprintf("%.3f x %.3f mm", float64(f.Along), float64(f.Across))
}

// fromLines reads the widths of a line chart's lines.
func (p *beamPart) fromLines(text string) (session.FittedBeam, error) {
	var widths []layout.MM
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == ' ' }) {
		v, err := parseNumber(part)
		if err != nil {
			return session.FittedBeam{}, err
		}
		widths = append(widths, layout.MM(v))
	}
	return session.FitBeamLines(*p.all.chart, widths)
}

func (p *beamPart) fromTints() {
	row := *p.tintRow()
	inquire(p.bench, p.tints, func(ctx context.Context) (session.FittedBeam, error) { return p.bench.s.FitBeam(ctx, row) }, p.take)
}

func (p *beamPart) take(f session.FittedBeam) {
	p.bench.hush()
	p.result = &f
	p.all.again()
}

func (p *beamPart) put() {
	if err := p.bench.s.UseBeam(lang.X("step.beam", "beam"), *p.result); err != nil {
		p.bench.complain(err)
	}
}
