package bench

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/ui/widgets"
)

// shelve puts a stack and a machine of the user's own into the library, and a stack
// that cannot be read.
func shelve(t *testing.T) {
	t.Helper()
	config := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", config)
	lib := library.Open()
	stack, err := job.FindStack("night-white-navy")
	require.NoError(t, err)
	stack.Name, stack.Coats[0].ThicknessUM = "the dark one", 31
	data, err := stack.JSON()
	require.NoError(t, err)
	saved, err := lib.Save("dark", data, false)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(saved.File), "bad.json"), []byte("{"), 0o666))
	machine, err := job.FindMachine("")
	require.NoError(t, err)
	machine.OpticalPowerW = 7.5
	data, err = machine.JSON()
	require.NoError(t, err)
	_, err = lib.Save("shed", data, false)
	require.NoError(t, err)
}

// offeredIn is what a list offers.
func (d *desk) offeredIn(nth int, name string) []string {
	d.t.Helper()
	d.openDrawer(nth)
	return d.control(name).(*widget.Select).Options
}

func TestTheUsersOwnStacksAndMachinesAreOffered(t *testing.T) {
	shelve(t)
	d := newDesk(t)
	offered := d.offeredIn(coatsNth, "Stack")
	require.Equal(t, "dark (your own)", offered[0], "before the starters")
	require.Greater(t, len(offered), 3)
	require.NotContains(t, offered, "bad (your own)")
	require.Contains(t, d.remarksIn(coatsNth), "library's bad cannot be offered")
	d.choose("Stack", "dark (your own)")
	require.Equal(t, 31.0, d.s.Document().Stack.Coats[0].ThicknessUM)
	require.Equal(t, "dark (your own)", d.control("Stack").(*widget.Select).Selected)
	d.enter(d.s.Document().Stack.Coats[0].Name, "29")
	require.Equal(t, "dark (your own)", d.control("Stack").(*widget.Select).Selected, "it was taken from there")
	again, err := library.Open().Stack("dark")
	require.NoError(t, err)
	require.Equal(t, again, d.shelf.stacks[0].value, "what lies there is left alone")

	require.Equal(t, "shed (your own)", d.offeredIn(burnNth, "Machine")[0])
	require.NotEqual(t, "shed (your own)", d.control("Machine").(*widget.Select).Selected, "it has the starter, of the same title")
	d.choose("Machine", "shed (your own)")
	require.Equal(t, 7.5, d.s.Document().Machine.OpticalPowerW)
	require.Equal(t, "shed (your own)", d.control("Machine").(*widget.Select).Selected)
	require.NotContains(t, d.remarksIn(burnNth), "bad")
}

// remarksIn are the remarks of a drawer.
func (d *desk) remarksIn(nth int) (all string) {
	walk(d.Drawers()[nth], func(o fyne.CanvasObject) {
		if r, ok := o.(*widgets.Remarks); ok {
			for _, text := range r.Texts() {
				all += text + "\n"
			}
		}
	})
	return all
}

func TestOpeningADrawerReadsTheLibraryAnew(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	d := newDesk(t)
	d.openDrawer(burnNth)
	before := len(d.offeredIn(coatsNth, "Stack"))
	d.openDrawer(burnNth)
	shelve(t)
	require.Len(t, optionsOf(d.shelf.stacks), before)
	var head fyne.Tappable
	walk(d.Drawers()[coatsNth], func(o fyne.CanvasObject) {
		if tapped, ok := o.(fyne.Tappable); ok && head == nil {
			head = tapped
		}
	})
	test.Tap(head)
	d.loop.turn()
	require.Len(t, d.control("Stack").(*widget.Select).Options, before+1)
}

func TestTheSplitOffersTheUsersOwnStacks(t *testing.T) {
	shelve(t)
	d := newDesk(t)
	d.settle()
	d.tap("Compare")
	d.settle()
	require.Contains(t, d.split.with.Options, "stack: dark (your own)")
	d.split.with.SetSelected("stack: dark (your own)")
	d.settle()
	own := starterLabel(d.s.Document().Stack.Name)
	require.Equal(t, [2]string{own, "dark (your own)"}, d.easel.Compared())

	// A starter that the job's stack was changed from can be compared with, too.
	require.NotContains(t, d.split.with.Options, "stack: "+own)
	d.openDrawer(coatsNth)
	d.enter(d.s.Document().Stack.Coats[0].Name, "28")
	require.NoError(t, library.Open().Remove(library.Stack, "dark"))
	d.restock()
	d.settle()
	require.Contains(t, d.split.with.Options, "stack: "+own)
	require.NotContains(t, d.split.with.Options, "stack: dark (your own)")
	require.Equal(t, "dark (your own)", d.easel.Compared()[1], "what is compared with stays")
	d.split.with.SetSelected("stack: " + own)
	d.settle()
	require.Equal(t, [2]string{"now", own}, d.easel.Compared())
}
