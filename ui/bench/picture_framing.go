package bench

import (
	"context"
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// framing is what of the picture is burned, and which way up.
type framing struct {
	*form
	suggest *widget.Button
	list    *widgets.PickList

	crops    []session.CropSuggestion
	cropsFor framed // what they were suggested for
}

// framed is what suggested crops depend on.
type framed struct {
	sha256  string
	turn    picture.Turn
	angle   float64
	corners [4]layout.PicturePoint
	aspect  float64
}

func framedAs(d job.Document) framed {
	p := d.Picture
	out := framed{sha256: p.SHA256, turn: p.Turn(), angle: p.StraightenDegrees}
	if p.Corners != nil {
		out.corners = *p.Corners
	}
	out.aspect, _ = d.Aspect() // a document that was let in has one
	return out
}

func newFraming(in *form) *framing {
	b := in.bench
	f, section := in.section(lang.X("picture.framing", "Framing"), func(d job.Document) string { return timesText(b.cropZoom(d)) })
	section.SetOpen(true)
	g := &framing{form: f, list: widgets.NewPickList()}
	f.buttons(
		widget.NewButtonWithIcon(lang.X("picture.turnleft", "Turn left"), theme.ContentUndoIcon(), func() { b.quarterTurns(3) }),
		widget.NewButtonWithIcon(lang.X("picture.turnright", "Turn right"), theme.ContentRedoIcon(), func() { b.quarterTurns(1) }))
	f.check(lang.X("picture.mirror", "Mirror"), lang.X("picture.sides", "left to right"), lang.X("step.mirror", "mirror"),
		func(d job.Document) bool { return d.Picture.Mirror },
		func(d *job.Document, on bool) { d.Picture.Mirror = on })
	f.field(lang.X("picture.crop", "Crop x, y, w"), "px", stepCrop(), cropText, b.cropTyped)
	f.slider(lang.X("picture.zoom", "Zoom"), stepCrop(), scale{1, 8, 0.05, timesText}, b.cropZoom, b.setCropZoom)
	g.suggest = widget.NewButtonWithIcon(lang.X("picture.suggest", "Suggest a crop"), theme.SearchIcon(), g.ask)
	f.box.Add(g.suggest)
	f.box.Add(g.list)
	g.list.OnPicked = func(nth int) {
		b.edit(stepCrop(), "", func(d *job.Document) error {
			d.Picture.Crop = g.crops[nth].Crop
			return nil
		})
	}
	f.shows = append(f.shows, g.showCrops)
	return g
}

func stepCrop() string { return lang.X("step.crop", "crop") }

// ask has crops suggested for the picture as it is framed now.
func (g *framing) ask() {
	b := g.bench
	wanted := framedAs(b.s.Document())
	inquire(b, g.suggest, b.s.SuggestCrops, func(crops []session.CropSuggestion) {
		if framedAs(b.s.Document()) != wanted {
			return // it was turned meanwhile, or the panel changed its shape
		}
		g.crops, g.cropsFor = crops, wanted
		g.showCrops(b.s.Document())
		g.box.Refresh()
		b.fitColumn()
	})
}

// showCrops lists what was suggested, as long as it suits.
func (g *framing) showCrops(d job.Document) {
	if len(g.crops) > 0 && framedAs(d) != g.cropsFor {
		g.crops = nil
		g.moved = true
	}
	chosen := -1
	picks := make([]widgets.Pick, len(g.crops))
	for i, c := range g.crops {
		picks[i] = widgets.Pick{Label: widgets.Sentence(c.Why()), Picture: c.View}
		if alike(c.Crop, d.Picture.Crop) {
			chosen = i
		}
	}
	g.list.Set(picks, chosen)
}

// alike tells whether two crops differ by less than anyone can see.
func alike(a, b layout.Crop) bool {
	const slack = 0.5 // pixels
	return math.Abs(a.X-b.X) < slack && math.Abs(a.Y-b.Y) < slack && math.Abs(a.W-b.W) < slack && math.Abs(a.H-b.H) < slack
}

// inquire has something worked out beside the window, with the button that asked for
// it out of use meanwhile, and takes it in on the main goroutine.
func inquire[T any](b *Bench, button *widget.Button, ask func(context.Context) (T, error), take func(T)) {
	button.Disable()
	b.background.Go(func() {
		answer, err := ask(b.ctx)
		b.do(func() {
			if b.ctx.Err() != nil {
				return // the window is gone
			}
			button.Enable()
			if err != nil {
				b.complain(err)
				return
			}
			take(answer)
		})
	})
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

// cropZoom is how many times as large the picture is as with the largest crop.
func (b *Bench) cropZoom(d job.Document) float64 {
	aspect, err := d.Aspect()
	w, h := b.s.PictureSize()
	if err != nil || d.Picture.Crop.W <= 0 {
		return 1
	}
	return layout.LargestCrop(w, h, aspect).W / d.Picture.Crop.W
}

// setCropZoom zooms about the middle of the crop.
func (b *Bench) setCropZoom(d *job.Document, zoom float64) error {
	c := d.Picture.Crop
	w, h := b.s.PictureSize()
	d.Picture.Crop = c.Zoomed(zoom/b.cropZoom(*d), c.X+c.W/2, c.Y+c.H/2, w, h)
	return nil
}

// quarterTurns turns the picture clockwise.
func (b *Bench) quarterTurns(n int) {
	b.edit(lang.X("step.turn", "quarter turn"), "", func(d *job.Document) error {
		d.Picture.QuarterTurns = (d.Picture.QuarterTurns + n) % 4
		return nil
	})
}
