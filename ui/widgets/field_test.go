package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

func validLength(text string) error {
	_, err := layout.ParseLength(text, layout.Millimetre)
	return err
}

// shownField is a field for a length with "254" in it, above a button.
func shownField(t *testing.T) (*Field, *[]string, fyne.Canvas) {
	f := NewField("width", "mm")
	f.held = func() fyne.KeyModifier { return 0 }
	f.Validate = validLength
	f.SetText("254")
	var committed []string
	f.OnCommitted = func(text string) { committed = append(committed, text) }
	s := show(t, variants["dark"], container.NewVBox(f, widget.NewButton("next", nil)), fyne.NewSize(290, 200))
	return f, &committed, s.window.Canvas()
}

// retype replaces what stands in the line, letter by letter.
func retype(f *Field, text string) {
	f.entry.TypedShortcut(&fyne.ShortcutSelectAll{})
	f.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	for _, r := range text {
		f.entry.TypedRune(r)
	}
}

func TestFieldCommits(t *testing.T) {
	for name, end := range map[string]func(f *Field, c fyne.Canvas){
		"with Enter":             func(f *Field, c fyne.Canvas) { f.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn}) },
		"when the focus goes on": func(f *Field, c fyne.Canvas) { test.FocusNext(c) },
	} {
		t.Run(name, func(t *testing.T) {
			f, committed, c := shownField(t)
			c.Focus(f.Entry())
			retype(f, "11 3/4 in")
			require.Empty(t, *committed, "not while typing")
			end(f, c)
			require.Equal(t, []string{"11 3/4 in"}, *committed)
			end(f, c)
			c.Unfocus()
			require.Len(t, *committed, 1, "what has not changed is not committed again")
		})
	}
}

func TestFieldRefusesInPlainWords(t *testing.T) {
	f, committed, c := shownField(t)
	c.Focus(f.Entry())
	before := f.MinSize().Height
	retype(f, "12 furlongs")
	require.Equal(t, "12 furlongs", f.Text(), "typing is never blocked")
	require.Empty(t, f.Problem(), "nor interrupted")
	f.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	require.Empty(t, *committed)
	require.Equal(t, validLength("12 furlongs").Error(), f.Problem())
	require.Equal(t, "12 furlongs", f.Text(), "what was typed stays, to be mended")
	require.Greater(t, f.MinSize().Height, before)

	retype(f, "12 ")
	require.Empty(t, f.Problem(), "the complaint goes as soon as it no longer holds")
	f.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	require.Equal(t, []string{"12 "}, *committed)
	require.Equal(t, before, f.MinSize().Height)
}

func TestFieldEscape(t *testing.T) {
	f, committed, c := shownField(t)
	c.Focus(f.Entry())
	retype(f, "nonsense")
	f.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	require.NotEmpty(t, f.Problem())
	f.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	require.Equal(t, "254", f.Text())
	require.Empty(t, f.Problem())
	test.FocusNext(c)
	require.Empty(t, *committed)
}

func TestSetTextLeavesTypingAlone(t *testing.T) {
	f, committed, c := shownField(t)
	f.SetText("300")
	require.Equal(t, "300", f.Text())
	c.Focus(f.Entry())
	f.SetText("310")
	require.Equal(t, "310", f.Text(), "nothing is being typed yet")
	retype(f, "4")
	f.SetText("320")
	require.Equal(t, "4", f.Text())
	f.entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	require.Equal(t, "320", f.Text())
	require.Empty(t, *committed)
}

func TestOwnersProblem(t *testing.T) {
	f, _, _ := shownField(t)
	f.SetProblem("leaves nothing of the panel")
	require.Equal(t, "leaves nothing of the panel", f.Problem())
	f.SetText("20")
	require.Empty(t, f.Problem())
}

func TestFieldSteps(t *testing.T) {
	f, committed, _ := shownField(t)
	strike(f.entry, fyne.KeyUp) // without OnStep nothing happens
	var steps []int
	f.OnStep = func(n int) { steps = append(steps, n) }
	strike(f.entry, fyne.KeyUp)
	strike(f.entry, fyne.KeyDown)
	f.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	strike(f.entry, fyne.KeyUp)
	require.Equal(t, []int{1, -1, 10}, steps)

	retype(f, "100")
	strike(f.entry, fyne.KeyUp)
	require.Equal(t, []string{"100"}, *committed, "what was typed counts before it is stepped")

	f.Disable()
	strike(f.entry, fyne.KeyUp)
	require.Len(t, steps, 4)
}

func TestFieldKeepsItsParts(t *testing.T) {
	f, _, _ := shownField(t)
	require.Equal(t, []string{"width", "mm"}, texts(t, f))
	f.SetUnit("in")
	require.Contains(t, texts(t, f), "in")
	require.False(t, f.Disabled())
	f.Disable()
	require.True(t, f.Disabled())
	f.Enable()
	require.False(t, f.Disabled())
}
