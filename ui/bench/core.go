package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	box "fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// cores are the cuts through the stack at the right: one at the pointer and, once the
// panel was clicked on, one at that point to compare with.
type cores struct {
	bench        *Bench
	object       *fyne.Container
	rows         *fyne.Container
	here, pinned *widgets.Core
	pinBox       *fyne.Container
	ground       string

	pointer, pin *layout.Point // nil: none
	came         newest[[]session.Core]
}

// coreWidth leaves a name room beside the cut.
const coreWidth = 196

func newCores(b *Bench) *cores {
	c := &cores{bench: b, here: widgets.NewCore(), pinned: widgets.NewCore()}
	heading := func(text string, more fyne.CanvasObject) fyne.CanvasObject {
		return container.NewBorder(nil, nil, nil, more, widget.NewLabelWithStyle(text, fyne.TextAlignLeading, fyne.TextStyle{Bold: true}))
	}
	drop := widget.NewButtonWithIcon("", theme.CancelIcon(), c.unpin)
	drop.Importance = widget.LowImportance
	c.pinBox = container.NewBorder(heading(lang.X("core.pinned", "Pinned"), drop), nil, nil, nil, container.NewPadded(c.pinned))
	c.pinBox.Hide()
	hereBox := container.NewBorder(heading(lang.X("core.title", "Core"), nil), nil, nil, nil, container.NewPadded(c.here))
	c.rows = container.New(box.NewGridLayoutWithRows(1), hereBox, c.pinBox)
	width := &fyne.Container{Layout: fixedWidth(coreWidth), Objects: []fyne.CanvasObject{c.rows}}
	c.object = container.NewBorder(nil, nil, widget.NewSeparator(), nil, width)
	return c
}

// fixedWidth is the layout of one object that is so wide, whatever it holds.
type fixedWidth float32

// MinSize is as wide as asked, and as high as the object.
func (w fixedWidth) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(float32(w), objects[0].MinSize().Height)
}

// Layout gives the object all the room.
func (w fixedWidth) Layout(objects []fyne.CanvasObject, size fyne.Size) { objects[0].Resize(size) }

// coresOut takes cores from the prober.
func (b *Bench) coresOut(all []session.Core) {
	if b.cores.came.put(all) {
		b.do(func() { b.cores.show(b.cores.came.take()) })
	}
}

func (c *cores) refresh(d job.Document) {
	layers := make([]widgets.Layer, len(d.Stack.Coats))
	for i, k := range d.Stack.Coats {
		layers[i] = widgets.Layer{Name: k.Name, Colour: k.Colour, ThicknessUM: k.ThicknessUM}
	}
	c.ground = d.Stack.Ground.Name
	ground := widgets.Layer{Name: c.ground, Colour: d.Stack.Ground.Colour}
	c.here.SetStack(layers, ground)
	c.pinned.SetStack(layers, ground)
	if c.pin != nil && !onPanel(d.Panel, *c.pin) {
		c.unpin()
	}
	c.aim()
}

func onPanel(p layout.Panel, at layout.Point) bool {
	return max(at.X, -at.X) <= p.Size.W/2 && max(at.Y, -at.Y) <= p.Size.H/2
}

// point follows the pointer over the panel.
func (c *cores) point(p layout.Point, inside bool) {
	c.pointer = nil
	if inside {
		c.pointer = &p
	}
	c.aim()
	c.showSetting()
}

// pinTo keeps a core at a point beside the one at the pointer. A second click on the
// same place takes it away.
func (c *cores) pinTo(p layout.Point) {
	c.pin = &p
	c.rows.Layout = box.NewGridLayoutWithRows(2)
	c.pinBox.Show()
	c.rows.Refresh()
	c.bench.easel.SetPin(c.pin)
	c.aim()
}

func (c *cores) unpin() {
	c.pin = nil
	c.pinBox.Hide()
	c.rows.Layout = box.NewGridLayoutWithRows(1)
	c.rows.Refresh()
	c.bench.easel.SetPin(nil)
	c.aim()
}

// seenDots is how many of the screen's pixels a dot takes when it can be told from
// its neighbours: from there on the core is that of the very spot.
const seenDots = 2

func (c *cores) aim() {
	var points []layout.Point
	for _, p := range []*layout.Point{c.pin, c.pointer} {
		if p != nil {
			points = append(points, *p)
		}
	}
	exact := c.bench.visible.PixelsPerMM*float64(c.bench.s.Document().Setting.Pitch) >= seenDots
	c.bench.s.Probe(exact, points...)
}

// show puts cores that were cut in their places. What failed is told with the picture
// that fails for the same reason.
func (c *cores) show(all []session.Core) {
	u := c.bench.s.Document().UnitOf()
	for _, core := range all {
		if core.Err != nil {
			continue
		}
		if c.pin != nil && core.At == *c.pin {
			c.pinned.SetReading(c.reading(core.Cut, "x "+signed(u, core.At.X)+"  y "+signed(u, core.At.Y)))
		}
		if c.pointer != nil && core.At == *c.pointer {
			where := lang.X("core.about", "about the pointer")
			if core.Exact {
				where = lang.X("core.at", "at the pointer")
			}
			c.here.SetReading(c.reading(core.Cut, where))
		}
	}
}

// showSetting shows what the setting burns where every dot burns, while the pointer
// is elsewhere.
func (c *cores) showSetting() {
	if c.pointer == nil && c.bench.ribbon.shown != nil {
		c.here.SetReading(c.reading(c.bench.ribbon.full, lang.X("core.setting", "where every dot burns")))
	}
}

func (c *cores) reading(cut proof.Cut, where string) widgets.CoreReading {
	r := widgets.CoreReading{Where: where, Look: cut.Look.Stored(), DoseJCM2: cut.DoseJCM2, DepthUM: cut.DepthUM}
	most := -1.0
	for _, p := range layersOf(cut, c.ground) {
		r.Shares = append(r.Shares, p.Share)
		if p.Share > most {
			r.Shows, most = p.Name, p.Share
		}
	}
	return r
}
