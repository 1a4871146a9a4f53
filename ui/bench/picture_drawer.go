package bench

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// pictureDrawer holds the picture: which, turned how, cropped where, toned.
type pictureDrawer struct {
	*form
	drawer *widgets.Drawer
	name   *widgets.Remarks
	why    *widgets.Remarks
}

func newPictureDrawer(b *Bench) *pictureDrawer {
	f := b.newForm()
	p := &pictureDrawer{form: f}
	p.name = f.remarks()
	f.box.Add(container.NewGridWithColumns(2,
		widget.NewButtonWithIcon(lang.X("picture.open", "Open..."), theme.FolderOpenIcon(), b.openPicture),
		widget.NewButtonWithIcon(lang.X("picture.turn", "Quarter turn"), theme.MediaReplayIcon(), b.quarterTurn)))
	f.check(lang.X("picture.mirror", "Mirror"), lang.X("picture.sides", "left to right"), lang.X("step.mirror", "mirror"),
		func(d job.Document) bool { return d.Picture.Mirror },
		func(d *job.Document, on bool) { d.Picture.Mirror = on })
	f.field(lang.X("picture.crop", "Crop x, y, w"), "px", stepCrop(), cropText, b.cropTyped)
	f.slider(lang.X("picture.mid", "Mid tone"), lang.X("step.mid", "mid tone"),
		func(d job.Document) float64 { return d.Picture.Tone.Mid },
		func(d *job.Document, v float64) { d.Picture.Tone.Mid = v })
	f.slider(lang.X("picture.contrast", "Contrast"), lang.X("step.contrast", "contrast"),
		func(d job.Document) float64 { return d.Picture.Tone.Contrast },
		func(d *job.Document, v float64) { d.Picture.Tone.Contrast = v })
	choice(f, lang.X("picture.burns", "Burn"), "", lang.X("step.burns", "what burns"), []option[job.Burns]{
		{job.BurnsByStack, lang.X("burns.stack", "As the stack asks")},
		{job.BurnsBright, lang.X("burns.bright", "Bright parts")},
		{job.BurnsDark, lang.X("burns.dark", "Dark parts")},
	}, func(d job.Document) job.Burns { return d.Picture.Burns },
		func(d *job.Document, v job.Burns) error { d.Picture.Burns = v; return nil })
	choice(f, lang.X("picture.tones", "Tones"), "", lang.X("step.tones", "tones"), []option[job.Tones]{
		{job.TonesEven, lang.X("tones.even", "Even steps of lightness")},
		{job.TonesLight, lang.X("tones.light", "Dots in step with light")},
	}, func(d job.Document) job.Tones { return d.Picture.Tones },
		func(d *job.Document, v job.Tones) error { d.Picture.Tones = v; return nil })
	p.why = f.remarks()
	p.drawer = widgets.NewDrawer(lang.X("drawer.picture", "Picture"), f.box)
	return p
}

func stepCrop() string { return lang.X("step.crop", "crop") }

func (p *pictureDrawer) widget() *widgets.Drawer { return p.drawer }

func (p *pictureDrawer) refresh(d job.Document, _ job.Plan) {
	p.show(d)
	w, h := p.bench.s.PictureSize()
	remarks := []widgets.Remark{said(fmt.Sprintf("%s, %d x %d px", d.Picture.Name, w, h))}
	if note := p.bench.s.PictureNote(); note != "" {
		remarks = append(remarks, warned(widgets.Sentence(note)))
	}
	p.name.Set(remarks...)
	p.drawer.SetSummary(d.Picture.Name)
	p.why.Set()
	if d.Picture.Burns == job.BurnsByStack {
		_, reason := proof.BrightBurns(d.Stack)
		p.why.Set(said(widgets.Sentence(reason)))
	}
}

func cropText(d job.Document) string {
	c := d.Picture.Crop
	return fmt.Sprintf("%.0f, %.0f, %.0f", c.X, c.Y, c.W)
}

// cropTyped reads x, y and width; the height follows from the picture area.
func (b *Bench) cropTyped(d *job.Document, text string) error {
	parts := strings.Split(text, ",")
	if len(parts) != 3 {
		return fmt.Errorf("crop %q is not x, y, width: write, for instance, 0, 120, 1800", text)
	}
	var v [3]float64
	for i, part := range parts {
		n, err := parseNumber(part)
		if err != nil {
			return err
		}
		v[i] = n
	}
	aspect, err := d.Aspect()
	if err != nil {
		return err
	}
	w, h := b.s.PictureSize()
	c := layout.Crop{X: v[0], Y: v[1], W: v[2], H: v[2] / aspect}
	if err := c.Validate(w, h, aspect); err != nil {
		return err
	}
	d.Picture.Crop = c
	return nil
}

func (b *Bench) quarterTurn() {
	b.edit(lang.X("step.turn", "quarter turn"), "", func(d *job.Document) error {
		d.Picture.QuarterTurns = (d.Picture.QuarterTurns + 1) % 4
		return nil
	})
}
