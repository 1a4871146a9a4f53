package bench

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/ui/widgets"
)

// form is the content of a drawer: controls that show a part of the document and
// change it.
type form struct {
	bench *Bench
	box   *fyne.Container
	shows []func(d job.Document)
}

func (b *Bench) newForm() *form { return &form{bench: b, box: container.NewVBox()} }

// show sets every control to what the document holds.
func (f *form) show(d job.Document) {
	for _, s := range f.shows {
		s(d)
	}
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
func choice[T comparable](f *form, name, prompt, step string, options []option[T], read func(job.Document) T, write func(*job.Document, T) error) *widget.Select {
	labels := make([]string, len(options))
	for i, o := range options {
		labels[i] = o.label
	}
	sel := widget.NewSelect(labels, nil)
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
	f.box.Add(widgets.NewNamed(name, sel))
	return sel
}

// slider adds a slider from -1 to 1, read as percent, whose drag is one step.
func (f *form) slider(name, step string, read func(job.Document) float64, write func(*job.Document, float64)) *widget.Slider {
	s := widget.NewSlider(-1, 1)
	s.Step = 0.01
	row := widgets.NewNamed(name, s)
	showing := false
	s.OnChanged = func(v float64) {
		if showing {
			return
		}
		f.bench.edit(step, step+" "+toneDrag, func(d *job.Document) error {
			write(d, v)
			return nil
		})
	}
	s.OnChangeEnded = func(float64) { f.bench.s.EndDrag() }
	f.shows = append(f.shows, func(d job.Document) {
		showing = true
		s.SetValue(read(d))
		showing = false
		row.SetReadout(percent(read(d)))
	})
	f.box.Add(row)
	return s
}

// check adds a box to tick, with what it does behind it.
func (f *form) check(name, label, step string, read func(job.Document) bool, write func(*job.Document, bool)) *widget.Check {
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
	f.box.Add(widgets.NewNamed(name, c))
	return c
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
