package bench

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/assets"
	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/ui/widgets"
)

// coatsDrawer holds the stack, painted as it lies on the panel.
type coatsDrawer struct {
	*form
	drawer  *widgets.Drawer
	picture *widgets.StackPicture
	lines   *fyne.Container // one line a coat for its thickness
	coats   []*form
	trust   *widget.Label
}

func newCoatsDrawer(b *Bench) *coatsDrawer {
	f := b.newForm()
	c := &coatsDrawer{form: f, picture: widgets.NewStackPicture(), lines: container.NewVBox()}
	choice(f, lang.X("coats.stack", "Stack"), lang.X("step.stack", "stack"), readyStacks(),
		func(d job.Document) string { return d.Stack.Name },
		func(d *job.Document, name string) error {
			s, err := stackCalled(name)
			if err == nil {
				d.Stack = s
			}
			return err
		})
	f.box.Add(c.picture)
	f.box.Add(c.lines)
	choice(f, lang.X("coats.finish", "Clear coat"), lang.X("step.finish", "clear coat"), []option[coat.Finish]{
		{coat.Bare, lang.X("finish.bare", "None")},
		{coat.Matt, lang.X("finish.matt", "Matt")},
		{coat.Satin, lang.X("finish.satin", "Satin")},
		{coat.Gloss, lang.X("finish.gloss", "Gloss")},
	}, func(d job.Document) coat.Finish { return d.Finish },
		func(d *job.Document, v coat.Finish) error { d.Finish = v; return nil })
	c.trust = f.note()
	c.drawer = widgets.NewDrawer(lang.X("drawer.coats", "Coats"), f.box)
	return c
}

// readyStacks are the starter stacks by what they are called.
func readyStacks() []option[string] {
	var out []option[string]
	for _, name := range assets.StackNames() {
		if s, err := job.FindStack(name); err == nil {
			out = append(out, option[string]{s.Name, s.Name})
		}
	}
	return out
}

func stackCalled(title string) (coat.Stack, error) {
	for _, name := range assets.StackNames() {
		if s, err := job.FindStack(name); err == nil && s.Name == title {
			return s, nil
		}
	}
	return coat.Stack{}, fmt.Errorf("there is no stack called %q: choose another", title)
}

func (c *coatsDrawer) widget() *widgets.Drawer { return c.drawer }

func (c *coatsDrawer) refresh(d job.Document, p job.Plan) {
	c.show(d)
	layers := make([]widgets.Layer, len(d.Stack.Coats))
	names := make([]string, len(d.Stack.Coats))
	for i, k := range d.Stack.Coats {
		layers[i] = widgets.Layer{Name: k.Name, Colour: k.Colour, ThicknessUM: k.ThicknessUM}
		names[i] = k.Name
	}
	c.picture.SetStack(layers, widgets.Layer{Name: d.Stack.Ground.Name, Colour: d.Stack.Ground.Colour})
	c.refreshLines(d)
	c.drawer.SetSummary(strings.Join(names, ", "))
	c.trust.Hide()
	if !p.Calibrated {
		c.trust.SetText(lang.X("coats.uncalibrated", "Uncalibrated: colours and depth are a guess until a chart has been burned."))
		c.trust.Show()
	}
}

// refreshLines keeps one line a coat.
func (c *coatsDrawer) refreshLines(d job.Document) {
	for len(c.coats) < len(d.Stack.Coats) {
		c.addLine(len(c.coats))
	}
	for i, line := range c.coats {
		if i >= len(d.Stack.Coats) {
			line.box.Hide()
			continue
		}
		line.box.Show()
		line.show(d)
	}
}

func (c *coatsDrawer) addLine(i int) {
	line := c.bench.newForm()
	// The stack may have fewer coats by the time a line is asked.
	has := func(d job.Document) bool { return i < len(d.Stack.Coats) }
	line.field(lang.X("coats.thickness", "Coat {{.Number}}", map[string]any{"Number": i + 1}), "um", lang.X("step.thickness", "thickness"),
		func(d job.Document) string {
			if !has(d) {
				return ""
			}
			return plainNumber(d.Stack.Coats[i].ThicknessUM)
		},
		func(d *job.Document, text string) error {
			if !has(*d) {
				return nil
			}
			um, err := parseNumber(text)
			if err != nil {
				return err
			}
			d.Stack, err = d.Stack.WithThickness(i, um)
			return err
		})
	c.coats = append(c.coats, line)
	c.lines.Add(line.box)
}

// plainNumber writes a number as people do, to four figures.
func plainNumber(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

func parseNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number: write, for instance, 25", text)
	}
	return v, nil
}
