package bench

import (
	"context"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// toneSection is what is done to the lightness of each pixel by itself.
type toneSection struct {
	*form
	clipped *widgets.Remarks
	editor  *widgets.CurveEditor
}

// lightest is the L* of white.
const lightest = 100

func newToneSection(in *form) *toneSection {
	f, section := in.section(lang.X("picture.tone", "Tone"), toneText)
	section.SetOpen(true)
	t := &toneSection{form: f}
	step := lang.X("step.points", "black and white points")
	f.slider(lang.X("picture.black", "Black point"), step, lightnessScale(0, lightest-1),
		func(d job.Document) float64 { return d.Picture.Tone.Black },
		func(d *job.Document, v float64) error {
			d.Picture.Tone.Black = min(v, whitePoint(*d)-1)
			return nil
		})
	f.slider(lang.X("picture.white", "White point"), step, lightnessScale(1, lightest), whitePoint,
		func(d *job.Document, v float64) error {
			setWhitePoint(d, max(v, d.Picture.Tone.Black+1))
			return nil
		})
	t.clipped = f.remarks()
	suggest := widget.NewButtonWithIcon(lang.X("picture.suggestpoints", "Suggest both points"), theme.SearchIcon(), nil)
	suggest.OnTapped = func() { f.bench.suggestPoints(suggest, step) }
	f.box.Add(suggest)
	f.slider(lang.X("picture.mid", "Mid tone"), lang.X("step.mid", "mid tone"), shareScale,
		func(d job.Document) float64 { return d.Picture.Tone.Mid },
		func(d *job.Document, v float64) error { d.Picture.Tone.Mid = v; return nil })
	f.slider(lang.X("picture.contrast", "Contrast"), lang.X("step.contrast", "contrast"), shareScale,
		func(d job.Document) float64 { return d.Picture.Tone.Contrast },
		func(d *job.Document, v float64) error { d.Picture.Tone.Contrast = v; return nil })
	t.editor = f.curve()
	return t
}

// toneText tells whether there is a tone at all.
func toneText(d job.Document) string {
	t := d.Picture.Tone
	t.Noise, t.Local, t.Sharpen = picture.Noise{}, picture.LocalContrast{}, picture.Sharpen{}
	if t == (picture.Tone{}) {
		return lang.X("tone.none", "as it is")
	}
	return lang.X("tone.changed", "changed")
}

// whitePoint is the lightness that becomes white.
func whitePoint(d job.Document) float64 {
	if d.Picture.Tone.White == 0 {
		return lightest
	}
	return d.Picture.Tone.White
}

func setWhitePoint(d *job.Document, v float64) {
	if v == lightest {
		v = 0 // as a job without one has it
	}
	d.Picture.Tone.White = v
}

func (t *toneSection) found(f session.Found) {
	t.editor.SetHistogram(f.Tones)
	if f.Err != nil {
		t.clipped.Set()
		return
	}
	t.clipped.Set(said(lang.X("picture.clipped", "{{.Low}} of the picture is cut off to black, {{.High}} to white.", map[string]any{
		"Low": sharePercent(f.Low), "High": sharePercent(f.High),
	})))
}

func (b *Bench) suggestPoints(button *widget.Button, step string) {
	type points struct{ black, white float64 }
	inquire(b, button, func(ctx context.Context) (p points, err error) {
		p.black, p.white, err = b.s.SuggestPoints(ctx)
		return p, err
	}, func(p points) {
		b.edit(step, "", func(d *job.Document) error {
			d.Picture.Tone.Black = p.black
			setWhitePoint(d, p.white)
			return nil
		})
	})
}

// curve adds the editor of the tone curve.
func (f *form) curve() *widgets.CurveEditor {
	step := lang.X("step.curve", "tone curve")
	set := func(c picture.Curve) func(*job.Document) error {
		return func(d *job.Document) error { d.Picture.Tone.Curve = c; return nil }
	}
	editor := widgets.NewCurveEditor()
	editor.OnChanged = func(c picture.Curve) {
		if !f.bench.edit(step, curveDrag, set(c)) {
			f.bench.refresh()
		}
	}
	editor.OnChangeEnded = f.bench.s.EndDrag
	f.box.Add(editor)
	f.shows = append(f.shows, func(d job.Document) { editor.SetCurve(d.Picture.Tone.Curve) })
	f.hint(lang.X("picture.curvehint", "The curve takes lightness, from the left, to lightness; the bars are how much of the picture it is given of each. Click to add a point, drag to move it, Delete takes it out."))
	straight := widget.NewButtonWithIcon(lang.X("picture.nocurve", "No curve"), theme.ContentClearIcon(), func() {
		f.bench.edit(step, "", set(picture.Curve{}))
	})
	f.box.Add(straight)
	f.enabledWhen(straight, func(d job.Document) bool { return d.Picture.Tone.Curve != picture.Curve{} })
	return editor
}
