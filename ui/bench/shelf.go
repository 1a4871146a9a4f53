package bench

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/library"
	"undercoat/ui/widgets"
)

// shelf is what the library has to make a job of: the user's own entries, then the
// starters that they do not hide. It is read when the window opens, when one of the
// drawers that offer it is opened, and when something is put on it.
type shelf struct {
	stacks   []onShelf[coat.Stack]
	machines []onShelf[burn.Machine]
	broken   []library.Entry
	err      error // of a folder; nil for all is well
}

// onShelf is one entry of the library.
type onShelf[T any] struct {
	name  string // by which the library calls it
	label string // that people read
	value T
}

func readShelf(l library.Library) shelf {
	var s shelf
	entries, err := l.List()
	s.err = err
	for _, e := range entries {
		if e.Err != nil {
			s.broken = append(s.broken, e)
			continue
		}
		switch e.Kind {
		case library.Stack:
			if v, err := l.Stack(e.Name); err == nil { // else it has gone since
				s.stacks = append(s.stacks, onShelf[coat.Stack]{e.Name, stackLabel(e, v), v})
			}
		case library.Machine:
			if v, err := l.Machine(e.Name); err == nil {
				s.machines = append(s.machines, onShelf[burn.Machine]{e.Name, entryLabel(e), v})
			}
		}
	}
	return s
}

// entryLabel is the name that an entry of the user's goes by, or the title of a starter.
func entryLabel(e library.Entry) string {
	if e.Starter {
		return starterLabel(e.Title)
	}
	return lang.X("shelf.own", "{{.Name}} (your own)", map[string]any{"Name": e.Name})
}

func stackLabel(e library.Entry, s coat.Stack) string {
	if o := s.Curve.Origin; !e.Starter && s.Curve.Calibrated && o != nil {
		return lang.X("shelf.calibrated", "{{.Name}} (calibrated {{.Date}})", map[string]any{"Name": e.Name, "Date": o.Date})
	}
	return entryLabel(e)
}

// starterLabel is a starter entry's name without the reminder that its values are
// starters, which stands in the remarks instead.
func starterLabel(name string) string { return strings.TrimSuffix(name, starterValues) }

const starterValues = " (starter values)"

// optionsOf are entries to choose from by name.
func optionsOf[T any](entries []onShelf[T]) []option[string] {
	out := make([]option[string], len(entries))
	for i, e := range entries {
		out[i] = option[string]{e.name, e.label}
	}
	return out
}

// stackOf is the entry that a job's stack was taken from: the one that is just like it,
// or else the first of its title, which it has been changed from. nil: none.
func (s *shelf) stackOf(v coat.Stack) *onShelf[coat.Stack] {
	return taken(s.stacks, func(e coat.Stack) (alike, akin bool) { return e.Name == v.Name && e.Equal(v), e.Name == v.Name })
}

// machineOf is the same for a machine.
func (s *shelf) machineOf(v burn.Machine) *onShelf[burn.Machine] {
	return taken(s.machines, func(e burn.Machine) (alike, akin bool) { return e == v, e.Name == v.Name })
}

func taken[T any](entries []onShelf[T], compare func(T) (alike, akin bool)) (found *onShelf[T]) {
	for i := range entries {
		alike, akin := compare(entries[i].value)
		if alike {
			return &entries[i]
		}
		if akin && found == nil {
			found = &entries[i]
		}
	}
	return found
}

func nameOf[T any](e *onShelf[T]) string {
	if e == nil {
		return ""
	}
	return e.name
}

// called is the entry of a name.
func called[T any](entries []onShelf[T], name string) (T, error) {
	for _, e := range entries {
		if e.name == name {
			return e.value, nil
		}
	}
	var none T
	return none, fmt.Errorf("the library has no %q any more: choose another", name)
}

// labelOf is what a job's stack is called.
func (s *shelf) labelOf(v coat.Stack) string {
	if e := s.stackOf(v); e != nil && e.value.Equal(v) {
		return e.label
	}
	return starterLabel(v.Name)
}

// troubles says which entries of a kind cannot be offered, and why.
func (s *shelf) troubles(kind library.Kind) (out []widgets.Remark) {
	for _, e := range s.broken {
		if e.Kind == kind {
			out = append(out, warned(lang.X("shelf.broken", "your library's {{.Name}} cannot be offered: {{.Why}}", map[string]any{"Name": e.Name, "Why": e.Err.Error()})))
		}
	}
	if s.err != nil {
		out = append(out, warned(s.err.Error()))
	}
	return out
}

// restock reads the library anew and shows what it has.
func (b *Bench) restock() {
	b.shelf = readShelf(library.Open())
	b.split.restock()
	b.handOff.parts.wall.showSets()
	b.refresh()
}

// offersShelf has the library read anew when a drawer is opened: another program may have
// put something there.
func (b *Bench) offersShelf(d *widgets.Drawer) {
	d.OnToggled = func(open bool) {
		if open {
			b.restock()
		}
	}
}
