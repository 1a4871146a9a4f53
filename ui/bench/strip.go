package bench

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// sheet is a view that takes the easel's place.
type sheet interface {
	object() fyne.CanvasObject
	// begin starts to work out what is shown of the job as it is, which may take a
	// moment; what was begun before is dropped.
	begin()
	leave()
}

// cards is a row of cards under a heading, worked out beside the window.
type cards struct {
	bench *Bench
	box   *fyne.Container
	row   *fyne.Container
	wait  *widget.Label
	stop  context.CancelFunc
}

func newCards(b *Bench, title, what string) *cards {
	c := &cards{bench: b, row: container.New(layout.NewGridLayoutWithColumns(1)), stop: func() {}}
	c.wait = widget.NewLabelWithStyle(lang.X("sheet.wait", "working it out..."), fyne.TextAlignCenter, fyne.TextStyle{})
	says := widget.NewLabel(what)
	says.Wrapping = fyne.TextWrapWord
	head := container.NewVBox(widget.NewLabelWithStyle(title, fyne.TextAlignLeading, fyne.TextStyle{Bold: true}), says)
	c.box = container.NewPadded(container.NewBorder(head, nil, nil, nil, container.NewStack(container.NewCenter(c.wait), c.row)))
	c.box.Hide()
	return c
}

func (c *cards) object() fyne.CanvasObject { return c.box }

func (c *cards) leave() { c.stop() }

// cardLong is the longer side of a card's picture, in the screen's pixels.
func (c *cards) cardLong() int {
	size := c.bench.win.Canvas().Size()
	return max(200, int(max(size.Width/3, size.Height*0.7)*c.bench.win.Canvas().Scale()))
}

// workOut works something out beside the window and then shows it.
func workOut[T any](c *cards, work func(context.Context) (T, error), show func(T)) {
	c.stop()
	ctx, cancel := context.WithCancel(c.bench.ctx)
	c.stop = cancel
	c.bench.background.Go(func() {
		v, err := work(ctx)
		c.bench.do(func() {
			if ctx.Err() != nil {
				return // the job has changed, or the view is gone
			}
			cancel()
			c.wait.Hide()
			if err != nil {
				c.row.RemoveAll()
				c.bench.complain(err)
				return
			}
			show(v)
		})
	})
}

// set shows as many cards as there are things.
func (c *cards) set(n int, press func(nth int), fill func(card *widgets.Card, nth int)) {
	for len(c.row.Objects) > n {
		c.row.Objects = c.row.Objects[:len(c.row.Objects)-1]
	}
	for len(c.row.Objects) < n {
		nth := len(c.row.Objects)
		var tapped func()
		if press != nil {
			tapped = func() { press(nth) }
		}
		c.row.Objects = append(c.row.Objects, widgets.NewCard(tapped))
	}
	c.row.Layout = layout.NewGridLayoutWithColumns(max(1, n))
	for i, o := range c.row.Objects {
		fill(o.(*widgets.Card), i)
	}
	c.row.Refresh()
}

// powerStrip shows the picture at five powers, one of which can be picked.
type powerStrip struct {
	*cards
	shown []job.StripStep
}

func newPowerStrip(b *Bench) *powerStrip {
	return &powerStrip{cards: newCards(b, lang.X("strip.title", "Power strip"),
		lang.X("strip.what", "The picture at five powers, and how much of it each coat shows on. A click sets that power."))}
}

func (p *powerStrip) begin() {
	powers := session.StripPowers(p.bench.s.Document())
	long := p.cardLong()
	workOut(p.cards, func(ctx context.Context) ([]job.StripStep, error) { return p.bench.s.PowerStrip(ctx, powers, long) }, p.show)
}

func (p *powerStrip) show(steps []job.StripStep) {
	p.shown = steps
	d := p.bench.s.Document()
	p.set(len(steps), p.pick, func(card *widgets.Card, i int) {
		s := steps[i]
		card.Set(s.Image, plainNumber(s.PowerPercent)+" %", fmt.Sprintf("%.0f J/cm²", s.DoseJCM2), partsOf(d, s.Coverage)...)
		card.SetChosen(s.PowerPercent == d.Setting.PowerPercent)
	})
}

func (p *powerStrip) pick(nth int) {
	power := p.shown[nth].PowerPercent
	p.bench.edit(stepPower(), "", withPower(power))
}

// partsOf are the shares of the coats, from the top down, and of the ground.
func partsOf(d job.Document, coverage []float64) []widgets.Part {
	var parts []widgets.Part
	for i, share := range coverage {
		if i < len(d.Stack.Coats) {
			parts = append(parts, widgets.Part{Name: d.Stack.Coats[i].Name, Colour: d.Stack.Coats[i].Colour, Share: share})
		} else {
			parts = append(parts, widgets.Part{Name: d.Stack.Ground.Name, Colour: d.Stack.Ground.Colour, Share: share})
		}
	}
	return parts
}
