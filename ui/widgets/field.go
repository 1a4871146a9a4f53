package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	house "undercoat/ui/theme"
)

var (
	_ fyne.Widget      = (*Field)(nil)
	_ fyne.Disableable = (*Field)(nil)
	_ fyne.Focusable   = (*fieldEntry)(nil)
)

// Field is a line to type a value into, with its name before and its unit behind.
// What is typed counts once Enter is pressed or the focus goes; until then nothing
// is refused, and Escape brings the last value back. What is wrong with a value
// stands below it in plain words.
type Field struct {
	widget.BaseWidget

	// Validate says what is wrong with a text; nil accepts everything.
	Validate func(text string) error
	// OnCommitted is called with an accepted text that differs from the last.
	// It may come while the focus changes, so it must not move the focus.
	OnCommitted func(text string)
	// OnResized tells that the field became taller or lower, because of what
	// stands below it.
	OnResized func()
	// OnStep is called for the up (1) and down (-1) keys, with Shift held for
	// ten at a time; without it those keys do nothing.
	OnStep func(steps int)

	name, unit string
	entry      *fieldEntry
	settled    string // the last text that counts
	problem    string
	held       func() fyne.KeyModifier
}

// fieldEntry is an entry that tells its field when typing ends.
type fieldEntry struct {
	widget.Entry
	field *Field
	typed bool // has the focus
}

// NewField is an empty field. name stands before the line and unit, which may be
// empty, behind it.
func NewField(name, unit string) *Field {
	f := &Field{name: name, unit: unit, held: heldModifiers}
	f.entry = &fieldEntry{field: f}
	f.entry.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	f.entry.ExtendBaseWidget(f.entry)
	f.entry.OnChanged = f.changed
	f.entry.OnSubmitted = func(string) { f.commit() }
	f.ExtendBaseWidget(f)
	return f
}

// SetText shows a value. Where something else is just being typed that stays, and
// the value is what Escape brings back.
func (f *Field) SetText(text string) {
	typing := f.entry.typed && f.entry.Text != f.settled
	f.settled = text
	if typing || f.entry.Text == text {
		return
	}
	f.entry.SetText(text)
	f.setProblem("")
}

// Text is what stands in the line, whether it counts yet or not.
func (f *Field) Text() string { return f.entry.Text }

// SetUnit changes the unit behind the line.
func (f *Field) SetUnit(unit string) {
	f.unit = unit
	f.Refresh()
}

// SetProblem writes below the line what is wrong with the value, as the owner
// found; an empty text takes that away.
func (f *Field) SetProblem(problem string) { f.setProblem(problem) }

// Problem is what stands below the line.
func (f *Field) Problem() string { return f.problem }

// Entry is the line itself, to give it the focus.
func (f *Field) Entry() fyne.Focusable { return f.entry }

// Enable lets the value be changed.
func (f *Field) Enable() { f.entry.Enable() }

// Disable keeps the value from being changed.
func (f *Field) Disable() { f.entry.Disable() }

// SetName changes the name before the line.
func (f *Field) SetName(name string) {
	if f.name != name {
		f.name = name
		f.Refresh()
	}
}

// Name is the name before the line.
func (f *Field) Name() string { return f.name }

// Disabled says whether the value can be changed.
func (f *Field) Disabled() bool { return f.entry.Disabled() }

func (f *Field) setProblem(problem string) {
	if f.problem == problem {
		return
	}
	f.problem = problem
	f.Refresh()
	if f.OnResized != nil {
		f.OnResized()
	}
}

func (f *Field) validate(text string) error {
	if f.Validate == nil {
		return nil
	}
	return f.Validate(text)
}

// changed takes a complaint away as soon as it no longer holds; a new one waits
// until the typing is done.
func (f *Field) changed(text string) {
	if f.problem != "" && f.validate(text) == nil {
		f.setProblem("")
	}
}

func (f *Field) commit() {
	text := f.entry.Text
	if err := f.validate(text); err != nil {
		f.setProblem(err.Error())
		return
	}
	f.setProblem("")
	if text == f.settled {
		return
	}
	f.settled = text
	if f.OnCommitted != nil {
		f.OnCommitted(text)
	}
}

// FocusGained starts the typing.
func (e *fieldEntry) FocusGained() {
	e.typed = true
	e.Entry.FocusGained()
}

// FocusLost ends the typing.
func (e *fieldEntry) FocusLost() {
	e.typed = false
	e.Entry.FocusLost()
	e.field.commit()
}

// TypedKey adds the keys of a field to those of a line.
func (e *fieldEntry) TypedKey(ev *fyne.KeyEvent) {
	f := e.field
	switch ev.Name {
	case fyne.KeyEscape:
		e.SetText(f.settled)
		f.setProblem("")
	case fyne.KeyUp, fyne.KeyDown:
		f.step(ev.Name == fyne.KeyUp)
	default:
		e.Entry.TypedKey(ev)
	}
}

func (f *Field) step(up bool) {
	if f.OnStep == nil || f.Disabled() {
		return
	}
	steps := -1
	if up {
		steps = 1
	}
	if f.held()&fyne.KeyModifierShift != 0 {
		steps *= 10
	}
	f.commit()
	f.OnStep(steps)
}

// CreateRenderer is called by the toolkit.
func (f *Field) CreateRenderer() fyne.WidgetRenderer {
	r := &fieldRenderer{field: f, brush: newBrush()}
	r.brush.begin(f)
	return r
}

const (
	fieldName = 96 // pixels for the name
	fieldUnit = 50 // and for the unit, so that lines below each other are alike
	fieldMark = 14
)

type fieldRenderer struct {
	field *Field
	brush *brush
	size  fyne.Size
}

func (r *fieldRenderer) problemLines(width float32) []string {
	return wrapped(Sentence(r.field.problem), r.brush.size(theme.SizeNameCaptionText), fyne.TextStyle{}, width-fieldName-fieldMark-4)
}

func (r *fieldRenderer) MinSize() fyne.Size {
	entry := r.field.entry.MinSize()
	size := fyne.NewSize(fieldName+80+r.unitWidth(), entry.Height)
	if lines := len(r.problemLines(r.size.Width)); lines > 0 {
		size.Height += 3 + float32(lines)*r.lineHeight()
	}
	return size
}

func (r *fieldRenderer) unitWidth() float32 {
	if r.field.unit == "" {
		return 0
	}
	return fieldUnit
}

func (r *fieldRenderer) lineHeight() float32 {
	return measure("Xg", r.brush.size(theme.SizeNameCaptionText), fyne.TextStyle{}).Height
}

func (r *fieldRenderer) Layout(size fyne.Size) {
	narrower := size.Width != r.size.Width
	r.size = size
	tall := r.field.entry.MinSize().Height
	place(r.field.entry, fieldName, 0, max(0, size.Width-fieldName-r.unitWidth()), tall)
	r.paint()
	if narrower && r.field.problem != "" {
		canvas.Refresh(r.field) // the problem may now take another number of lines
	}
}

func (r *fieldRenderer) paint() {
	f, b := r.field, r.brush
	b.begin(f)
	tall := f.entry.MinSize().Height
	size, ink := b.size(theme.SizeNameText), b.colour(theme.ColorNameForeground)
	plain := fyne.TextStyle{}
	y := (tall - measure("Xg", size, plain).Height) / 2
	b.text(elide(f.name, size, plain, fieldName-8), 0, y, size, plain, ink)
	unit := elide(f.unit, size, plain, fieldUnit-6)
	b.text(unit, r.size.Width-r.unitWidth()+6, y, size, plain, b.colour(house.Quiet))

	y = tall + 3
	caption, step := b.size(theme.SizeNameCaptionText), r.lineHeight()
	for i, line := range r.problemLines(r.size.Width) {
		if i == 0 {
			b.icon(errorMark(), fieldName, y+(step-fieldMark)/2, fieldMark)
		}
		b.text(line, fieldName+fieldMark+4, y, caption, plain, b.colour(theme.ColorNameError))
		y += step
	}
}

func (r *fieldRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.brush.layer, r.field.entry}
}

func (r *fieldRenderer) Refresh() {
	r.Layout(r.size)
	r.field.entry.Refresh()
	canvas.Refresh(r.field)
}

func (r *fieldRenderer) Destroy() {}
