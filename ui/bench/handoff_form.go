package bench

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/export"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// shopForm is a section whose controls show and change what the hand-off takes from the
// workshop, which no step of Undo takes back.
type shopForm struct {
	bench   *Bench
	box     *fyne.Container
	section *widgets.Drawer
	changed func()
	shows   []func(w session.Workshop, u layout.Unit)
}

// newShopForm is a folded section. changed is told of every change.
func newShopForm(b *Bench, title string, changed func()) *shopForm {
	f := &shopForm{bench: b, box: container.NewVBox(), changed: changed}
	f.section = b.newSection(title, f.box)
	return f
}

// newSection is a folded part of a drawer.
func (b *Bench) newSection(title string, content *fyne.Container) *widgets.Drawer {
	s := widgets.NewSection(title, content)
	s.OnResized = b.fitColumn
	s.OnToggled = func(open bool) {
		if open {
			b.Reveal(s)
		}
	}
	return s
}

// show sets every control to what the session holds.
func (f *shopForm) show(u layout.Unit) {
	w := f.bench.s.Workshop()
	for _, s := range f.shows {
		s(w, u)
	}
}

// set changes what the session holds.
func (f *shopForm) set(change func(*session.Workshop) error) error {
	w := f.bench.s.Workshop()
	if err := change(&w); err != nil {
		return err
	}
	if err := f.bench.s.SetWorkshop(w); err != nil {
		return plainRate(err)
	}
	f.changed()
	return nil
}

// unit is the one that bare lengths are read in.
func (f *shopForm) unit() layout.Unit { return f.bench.s.Document().UnitOf() }

// field adds a line to type into.
func (f *shopForm) field(name, unit string, read func(session.Workshop, layout.Unit) string, write func(*session.Workshop, string) error) *widgets.Field {
	field := widgets.NewField(name, unit)
	field.Validate = func(text string) error {
		w := f.bench.s.Workshop()
		if err := write(&w, text); err != nil {
			return err
		}
		return plainRate(f.bench.s.CheckWorkshop(w))
	}
	field.OnCommitted = func(text string) {
		if err := f.set(func(w *session.Workshop) error { return write(w, text) }); err != nil {
			field.SetProblem(err.Error())
		}
	}
	field.OnResized = f.bench.fitColumn
	f.shows = append(f.shows, func(w session.Workshop, u layout.Unit) { field.SetText(read(w, u)) })
	f.box.Add(field)
	return field
}

// number adds a line for a number, which is empty where it is 0.
func (f *shopForm) number(name, unit string, of func(*session.Workshop) *float64) *widgets.Field {
	return f.field(name, unit, func(w session.Workshop, _ layout.Unit) string {
		if v := of(&w); v != nil && *v != 0 {
			return plainNumber(*v)
		}
		return ""
	}, func(w *session.Workshop, text string) error {
		v, err := parseOptional(text)
		if to := of(w); err == nil && to != nil {
			*to = v
		}
		return err
	})
}

// parseOptional reads a number; nothing is 0.
func parseOptional(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	return parseNumber(text)
}

// tick adds a box to tick.
func (f *shopForm) tick(name, label string, read func(session.Workshop) bool, write func(*session.Workshop, bool)) {
	box := widget.NewCheck(label, nil)
	showing := false
	box.OnChanged = func(on bool) {
		if showing {
			return
		}
		if err := f.set(func(w *session.Workshop) error { write(w, on); return nil }); err != nil {
			f.bench.complain(err)
		}
	}
	f.shows = append(f.shows, func(w session.Workshop, _ layout.Unit) {
		showing = true
		box.SetChecked(read(w))
		showing = false
	})
	f.box.Add(widgets.NewNamed(name, box))
}

// pick adds a list of two or more ways.
func (f *shopForm) pick(name string, labels []string, read func(session.Workshop) int, write func(*session.Workshop, int)) {
	list := widget.NewSelect(labels, nil)
	showing := false
	list.OnChanged = func(string) {
		nth := list.SelectedIndex()
		if showing || nth < 0 {
			return
		}
		if err := f.set(func(w *session.Workshop) error { write(w, nth); return nil }); err != nil {
			f.bench.complain(err)
		}
	}
	f.shows = append(f.shows, func(w session.Workshop, _ layout.Unit) {
		showing = true
		list.SetSelectedIndex(read(w))
		showing = false
	})
	f.box.Add(widgets.NewNamed(name, list))
}

// plainRate puts the refusal of a rate without the name that it has in files: it stands
// below its own line.
func plainRate(err error) error {
	var rate *export.RateError
	if !errors.As(err, &rate) {
		return err
	}
	return errors.New(lang.X("price.range", "{{.Value}} is not possible: give 0 to {{.Most}}, 0 or nothing for what is not charged", map[string]any{
		"Value": minus(plainNumber(rate.Value)), "Most": plainNumber(rate.Most),
	}))
}
