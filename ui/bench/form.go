package bench

import (
	"strings"

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
// shows none picked.
func choice[T comparable](f *form, name, step string, options []option[T], read func(job.Document) T, write func(*job.Document, T) error) *widget.Select {
	labels := make([]string, len(options))
	for i, o := range options {
		labels[i] = o.label
	}
	sel := widget.NewSelect(labels, nil)
	showing := false
	sel.OnChanged = func(string) {
		i := sel.SelectedIndex()
		if showing || i < 0 {
			return
		}
		f.bench.edit(step, "", func(d *job.Document) error { return write(d, options[i].value) })
		f.bench.refresh() // a refused choice goes back
	}
	f.shows = append(f.shows, func(d job.Document) {
		showing = true
		defer func() { showing = false }()
		value := read(d)
		for i, o := range options {
			if o.value == value {
				sel.SetSelectedIndex(i)
				return
			}
		}
		sel.ClearSelected()
	})
	f.box.Add(named(name, sel))
	return sel
}

// slider adds a slider from -1 to 1 whose drag is one step.
func (f *form) slider(name, step string, read func(job.Document) float64, write func(*job.Document, float64)) *widget.Slider {
	s := widget.NewSlider(-1, 1)
	s.Step = 0.01
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
	})
	f.box.Add(named(name, s))
	return s
}

// check adds a box to tick.
func (f *form) check(name, step string, read func(job.Document) bool, write func(*job.Document, bool)) *widget.Check {
	c := widget.NewCheck(name, nil)
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
	f.box.Add(c)
	return c
}

// note adds a line of text that says what follows from the document.
func (f *form) note() *widget.Label {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	f.box.Add(l)
	return l
}

// named puts a name before a control, in line with the fields.
func named(name string, control fyne.CanvasObject) fyne.CanvasObject {
	return container.New(&nameAndControl{}, widget.NewLabel(name), control)
}

// nameAndControl gives the name the width it has in a field.
type nameAndControl struct{}

const nameWidth = 92

func (nameAndControl) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	name, control := objects[0], objects[1]
	h := name.MinSize().Height
	name.Resize(fyne.NewSize(nameWidth, h))
	name.Move(fyne.NewPos(0, (size.Height-h)/2))
	control.Resize(fyne.NewSize(size.Width-nameWidth, control.MinSize().Height))
	control.Move(fyne.NewPos(nameWidth, (size.Height-control.MinSize().Height)/2))
}

func (nameAndControl) MinSize(objects []fyne.CanvasObject) fyne.Size {
	name, control := objects[0].MinSize(), objects[1].MinSize()
	return fyne.NewSize(nameWidth+control.Width, max(name.Height, control.Height))
}

// sentence makes an error of this program a sentence for the screen.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}
