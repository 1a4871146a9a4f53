package bench

import (
	"strings"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/ui/widgets"
)

// coatsDrawer holds the stack, painted as it lies on the panel. One of its coats
// is picked, and the line below the stack is for that one.
type coatsDrawer struct {
	*form
	drawer    *widgets.Drawer
	picture   *widgets.StackPicture
	thickness *widgets.Field
	picked    int                  // from the top
	ends      func(d job.Document) // lets the picked coat be moved no farther than the ends
	trust     *widgets.Remarks
}

func newCoatsDrawer(b *Bench) *coatsDrawer {
	f := b.newForm()
	c := &coatsDrawer{form: f, picture: widgets.NewStackPicture()}
	choiceOf(f, lang.X("coats.stack", "Stack"), lang.X("coats.choose", "Choose a stack"), lang.X("step.stack", "stack"),
		func(job.Document) []option[string] { return optionsOf(b.shelf.stacks) },
		func(d job.Document) string { return nameOf(b.shelf.stackOf(d.Stack)) },
		func(d *job.Document, name string) error {
			s, err := called(b.shelf.stacks, name)
			if err == nil {
				d.Stack = s.Clone()
			}
			return err
		})
	c.picture.OnPicked, c.picture.OnMoved = c.pick, c.move
	f.box.Add(c.picture)
	up := widget.NewButtonWithIcon(lang.X("coats.up", "Move up"), theme.MoveUpIcon(), func() { c.moveBy(-1) })
	down := widget.NewButtonWithIcon(lang.X("coats.down", "Move down"), theme.MoveDownIcon(), func() { c.moveBy(1) })
	f.buttons(up, down)
	c.ends = func(d job.Document) {
		enable(up, c.pickedIn(d) > 0)
		enable(down, c.pickedIn(d) < len(d.Stack.Coats)-1)
	}
	c.thickness = f.field("", "µm", lang.X("step.thickness", "thickness"), c.thicknessText, c.setThickness)
	choice(f, lang.X("coats.finish", "Clear coat"), "", lang.X("step.finish", "clear coat"), []option[coat.Finish]{
		{coat.Bare, lang.X("finish.bare", "None")},
		{coat.Matt, lang.X("finish.matt", "Matt")},
		{coat.Satin, lang.X("finish.satin", "Satin")},
		{coat.Gloss, lang.X("finish.gloss", "Gloss")},
	}, func(d job.Document) coat.Finish { return d.Finish },
		func(d *job.Document, v coat.Finish) error { d.Finish = v; return nil })
	c.trust = f.remarks()
	c.drawer = widgets.NewDrawer(lang.X("drawer.coats", "Coats"), f.box)
	b.offersShelf(c.drawer)
	return c
}

// pick turns the line below the stack over to a layer. The ground has no
// thickness that matters.
func (c *coatsDrawer) pick(layer int) {
	d := c.bench.s.Document()
	if layer >= len(d.Stack.Coats) {
		return
	}
	c.picked = layer
	c.showPicked(d)
}

// pickedIn is the place of the picked coat; a stack of fewer coats has its lowest
// picked.
func (c *coatsDrawer) pickedIn(d job.Document) int { return min(c.picked, len(d.Stack.Coats)-1) }

func (c *coatsDrawer) showPicked(d job.Document) {
	i := c.pickedIn(d)
	c.picture.SetChosen(i)
	c.ends(d)
	c.thickness.SetName(d.Stack.Coats[i].Name)
	c.thickness.SetText(c.thicknessText(d))
}

func (c *coatsDrawer) thicknessText(d job.Document) string {
	return plainNumber(d.Stack.Coats[c.pickedIn(d)].ThicknessUM)
}

func (c *coatsDrawer) setThickness(d *job.Document, text string) error {
	um, err := parseNumber(text)
	if err != nil {
		return err
	}
	d.Stack, err = d.Stack.WithThickness(c.pickedIn(*d), um)
	return err
}

// move puts a coat at another place of the stack, as one step. It stays picked.
func (c *coatsDrawer) move(from, to int) {
	before := c.picked
	c.picked = to
	if !c.bench.edit(lang.X("step.order", "order of the coats"), "", func(d *job.Document) (err error) {
		d.Stack, err = d.Stack.WithMoved(from, to)
		return err
	}) {
		c.picked = before
		c.bench.refresh()
	}
}

// moveBy moves the picked coat by some places.
func (c *coatsDrawer) moveBy(places int) {
	i := c.pickedIn(c.bench.s.Document())
	c.move(i, i+places)
}

func (c *coatsDrawer) widget() *widgets.Drawer { return c.drawer }

func (c *coatsDrawer) refresh(d job.Document, p job.Plan) {
	layers := make([]widgets.Layer, len(d.Stack.Coats))
	names := make([]string, len(d.Stack.Coats))
	for i, k := range d.Stack.Coats {
		layers[i] = widgets.Layer{Name: k.Name, Colour: k.Colour, ThicknessUM: k.ThicknessUM}
		names[i] = k.Name
	}
	c.picture.SetStack(layers, widgets.Layer{Name: d.Stack.Ground.Name, Colour: d.Stack.Ground.Colour})
	c.show(d)
	c.showPicked(d)
	c.drawer.SetSummary(strings.Join(names, ", "))
	remarks := c.bench.shelf.troubles(library.Stack)
	if !p.Calibrated {
		remarks = append(remarks, warned(lang.X("coats.uncalibrated", "uncalibrated: colours and depth are a guess until a chart has been burned and measured")))
	}
	c.trust.Set(remarks...)
}
