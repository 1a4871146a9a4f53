package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// form is the content of a drawer: controls that show a part of the document and
// change it.
type form struct {
	bench *Bench
	box   *fyne.Container
	shows []func(d job.Document)
	moved bool // something came or went, so that the rest must be arranged anew
}

func (b *Bench) newForm() *form { return &form{bench: b, box: container.NewVBox()} }

// show sets every control to what the document holds.
func (f *form) show(d job.Document) {
	for _, s := range f.shows {
		s(d)
	}
	if f.moved {
		f.moved = false
		f.box.Refresh()
	}
}

// when shows an object only for documents that have something to do with it.
func (f *form) when(o fyne.CanvasObject, has func(d job.Document) bool) {
	f.shows = append(f.shows, func(d job.Document) {
		on := has(d)
		if on == o.Visible() {
			return
		}
		f.moved = true
		if on {
			o.Show()
		} else {
			o.Hide()
		}
	})
}

// enabledWhen lets a control be used only for some documents.
func (f *form) enabledWhen(o fyne.Disableable, can func(d job.Document) bool) {
	f.shows = append(f.shows, func(d job.Document) { enable(o, can(d)) })
}

// part adds controls that come and go together.
func (f *form) part(has func(d job.Document) bool) *form {
	in := f.bench.newForm()
	f.box.Add(in.box)
	f.shows = append(f.shows, in.show)
	f.when(in.box, has)
	return in
}

// section adds controls under a heading that folds them away. summary is what the
// heading says of them then; it may be nil.
func (f *form) section(title string, summary func(d job.Document) string) (*form, *widgets.Drawer) {
	in := f.bench.newForm()
	s := widgets.NewSection(title, in.box)
	s.OnResized = func() {
		f.box.Refresh()
		f.bench.fitColumn()
	}
	s.OnToggled = func(open bool) {
		if open {
			f.bench.column.Reveal(s)
		}
	}
	f.box.Add(s)
	f.shows = append(f.shows, in.show)
	if summary != nil {
		f.shows = append(f.shows, func(d job.Document) { s.SetSummary(summary(d)) })
	}
	return in, s
}

// buttons adds buttons side by side.
func (f *form) buttons(buttons ...fyne.CanvasObject) {
	f.box.Add(container.NewGridWithColumns(len(buttons), buttons...))
}

// field adds a line to type into. step names the edit for Undo; read gives what
// the line shows and write puts what was typed into the document.
func (f *form) field(name, unit, step string, read func(job.Document) string, write func(*job.Document, string) error) *widgets.Field {
	field := widgets.NewField(name, unit)
	change := func(text string) func(*job.Document) error {
		return func(d *job.Document) error { return write(d, text) }
	}
	field.Validate = func(text string) error { return f.bench.s.Check(change(text)) }
	field.OnCommitted = func(text string) { f.bench.edit(step, "", change(text)) }
	field.OnResized = f.bench.fitColumn
	f.shows = append(f.shows, func(d job.Document) { field.SetText(read(d)) })
	f.box.Add(field)
	return field
}

// option is one entry of a choice: what the document holds and what people read.
type option[T comparable] struct {
	value T
	label string
}

// choice adds a list to pick from. A document that holds none of the options
// shows the list's prompt, which may be empty where that cannot be.
func choice[T comparable](f *form, name, prompt, step string, options []option[T], read func(job.Document) T, write func(*job.Document, T) error) *widgets.Named {
	return choiceOf(f, name, prompt, step, func(job.Document) []option[T] { return options }, read, write)
}

func labelsOf[T comparable](options []option[T]) []string {
	labels := make([]string, len(options))
	for i, o := range options {
		labels[i] = o.label
	}
	return labels
}

// choiceOf adds a list whose options follow from the document.
func choiceOf[T comparable](f *form, name, prompt, step string, offered func(job.Document) []option[T], read func(job.Document) T, write func(*job.Document, T) error) *widgets.Named {
	var options []option[T]
	sel := widget.NewSelect(nil, nil)
	sel.PlaceHolder = prompt
	showing := false
	sel.OnChanged = func(string) {
		i := sel.SelectedIndex()
		if showing || i < 0 {
			return
		}
		if !f.bench.edit(step, "", func(d *job.Document) error { return write(d, options[i].value) }) {
			f.bench.refresh() // a refused choice goes back
		}
	}
	f.shows = append(f.shows, func(d job.Document) {
		if now := offered(d); !slices.Equal(now, options) {
			options = now
			showing = true
			sel.SetOptions(labelsOf(options))
			showing = false
		}
		value := read(d)
		holds := slices.IndexFunc(options, func(o option[T]) bool { return o.value == value })
		if holds == sel.SelectedIndex() {
			return
		}
		showing = true
		if holds < 0 {
			sel.ClearSelected()
		} else {
			sel.SetSelectedIndex(holds)
		}
		showing = false
	})
	row := widgets.NewNamed(name, sel)
	f.box.Add(row)
	return row
}

// scale is what a slider goes over and how its place is read.
type scale struct {
	from, to, step float64
	text           func(float64) string
}

// shareScale runs from -1 to 1, read as percent with a sign.
var shareScale = scale{-1, 1, 0.01, percent}

// lightnessScale runs over L*.
func lightnessScale(from, to float64) scale { return scale{from, to, 0.5, plainNumber} }

// slider adds a slider whose drag is one step.
func (f *form) slider(name, step string, over scale, read func(job.Document) float64, write func(*job.Document, float64) error) *widget.Slider {
	s := widget.NewSlider(over.from, over.to)
	s.Step = over.step
	row := widgets.NewNamed(name, s)
	showing := false
	s.OnChanged = func(v float64) {
		if showing {
			return
		}
		if !f.bench.edit(step, name+" "+sliderDrag, func(d *job.Document) error { return write(d, v) }) {
			f.bench.refresh()
		}
	}
	s.OnChangeEnded = func(float64) {
		if !showing {
			f.bench.s.EndDrag()
		}
	}
	f.shows = append(f.shows, func(d job.Document) {
		v := read(d)
		row.SetReadout(over.text(v))
		showing = true
		s.SetValue(v)
		showing = false
	})
	f.box.Add(row)
	return s
}

// check adds a box to tick, with what it does behind it.
func (f *form) check(name, label, step string, read func(job.Document) bool, write func(*job.Document, bool)) *widgets.Named {
	c := widget.NewCheck(label, nil)
	showing := false
	c.OnChanged = func(on bool) {
		if showing {
			return
		}
		f.bench.edit(step, "", func(d *job.Document) error {
			write(d, on)
			return nil
		})
	}
	f.shows = append(f.shows, func(d job.Document) {
		showing = true
		c.SetChecked(read(d))
		showing = false
	})
	row := widgets.NewNamed(name, c)
	f.box.Add(row)
	return row
}

// number adds a line for a number of the document.
func (f *form) number(name, unit, step string, read func(job.Document) float64, write func(*job.Document, float64)) *widgets.Field {
	return f.field(name, unit, step,
		func(d job.Document) string { return minus(plainNumber(read(d))) },
		func(d *job.Document, text string) error {
			v, err := parseNumber(text)
			if err == nil {
				write(d, v)
			}
			return err
		})
}

// whole adds a line for a whole number of the document.
func (f *form) whole(name, unit, step, instance string, read func(job.Document) int, write func(*job.Document, int)) *widgets.Field {
	return f.field(name, unit, step,
		func(d job.Document) string { return strconv.Itoa(read(d)) },
		func(d *job.Document, text string) error {
			n, err := strconv.Atoi(strings.TrimSpace(text))
			if err != nil {
				return fmt.Errorf("%q is not a whole number: write, for instance, %s", text, instance)
			}
			write(d, n)
			return nil
		})
}

// length adds a line for a length of the document that is never below 0.
func (f *form) length(name, step string, read func(job.Document) layout.MM, write func(*job.Document, layout.MM)) *widgets.Field {
	return f.lengthRead(name, step, layout.ParseLength, read, write)
}

// signedLength adds a line for a length that may be below 0.
func (f *form) signedLength(name, step string, read func(job.Document) layout.MM, write func(*job.Document, layout.MM)) *widgets.Field {
	return f.lengthRead(name, step, parseSigned, read, write)
}

func (f *form) lengthRead(name, step string, parse func(string, layout.Unit) (layout.MM, error), read func(job.Document) layout.MM, write func(*job.Document, layout.MM)) *widgets.Field {
	return f.field(name, "", step,
		func(d job.Document) string { return signed(d.UnitOf(), read(d)) },
		func(d *job.Document, text string) error {
			l, err := parse(text, d.UnitOf())
			if err == nil {
				write(d, l)
			}
			return err
		})
}

// remarks adds paragraphs that say what follows from the document.
func (f *form) remarks() *widgets.Remarks {
	r := widgets.NewRemarks(false)
	f.box.Add(r)
	return r
}

// said is one plain paragraph.
func said(text string) widgets.Remark { return widgets.Remark{Kind: widgets.Said, Text: text} }

// warned is one caution, as an error or a plan puts it.
func warned(text string) widgets.Remark {
	return widgets.Remark{Kind: widgets.Warned, Text: widgets.Sentence(text)}
}
