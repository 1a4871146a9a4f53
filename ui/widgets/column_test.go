package widgets

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"
)

// shownColumn is a column of four drawers, each with a field and a remark in it.
func shownColumn(t *testing.T, height float32) (*Column, []*Field) {
	var drawers []*Drawer
	var fields []*Field
	for i := range 4 {
		f := NewField("width", "mm")
		fields = append(fields, f)
		r := NewRemarks(false)
		r.Set(Remark{Said, "A remark that is long enough to take two lines, or three, in a column of this width."})
		drawers = append(drawers, NewDrawer(fmt.Sprint("drawer ", i), container.NewVBox(f, r)))
	}
	c := NewColumn(300, drawers...)
	for _, f := range fields {
		f.OnResized = c.Fit
	}
	show(t, variants["dark"], c, fyne.NewSize(300, height))
	return c, fields
}

// requireStacked checks that the drawers follow each other with nothing between and
// that each has the room it needs.
func requireStacked(t *testing.T, c *Column) {
	t.Helper()
	for i, d := range c.drawers {
		require.Equal(t, d.MinSize().Height, d.Size().Height, "drawer %d", i)
		if i > 0 {
			above := c.drawers[i-1]
			require.InDelta(t, above.Position().Y+above.Size().Height, d.Position().Y, 6, "drawer %d", i)
		}
	}
}

func TestColumnMakesRoomAtOnce(t *testing.T) {
	c, fields := shownColumn(t, 600)
	requireStacked(t, c)
	c.drawers[1].SetOpen(true)
	requireStacked(t, c)
	c.drawers[3].SetOpen(true)
	requireStacked(t, c)

	before := c.drawers[1].Size().Height
	fields[1].SetProblem("the width leaves nothing of the panel: choose a smaller one")
	require.Greater(t, c.drawers[1].Size().Height, before)
	requireStacked(t, c)
	fields[1].SetProblem("")
	require.Equal(t, before, c.drawers[1].Size().Height)

	c.drawers[1].SetOpen(false)
	requireStacked(t, c)
}

func TestColumnShowsWhatIsOpenedByHand(t *testing.T) {
	c, _ := shownColumn(t, 190)
	for _, d := range c.drawers[:3] {
		d.SetOpen(true)
	}
	require.Zero(t, c.scroll.Offset.Y, "only a hand moves the column")
	last := c.drawers[3]
	test.Tap(last.head)
	end := last.Position().Y + last.Size().Height
	require.InDelta(t, end, c.scroll.Offset.Y+c.scroll.Size().Height, 1)

	c.Reveal(c.drawers[0])
	require.Zero(t, c.scroll.Offset.Y)
}

func TestRemarksAreAsTallAsTheirWords(t *testing.T) {
	r := NewRemarks(true)
	require.False(t, r.Visible(), "nothing said takes no room")
	r.Set(Remark{Listed, "Never leave a burn unattended, and keep a means to put out a fire at hand."})
	show(t, variants["light"], container.NewVBox(r), fyne.NewSize(200, 300))
	require.True(t, r.Visible())
	r.Resize(fyne.NewSize(800, 40))
	wide := r.MinSize().Height
	r.Resize(fyne.NewSize(160, 40))
	require.Greater(t, r.MinSize().Height, 2*wide)

	r.Set(Remark{Said, "One."}, Remark{Warned, "Two."})
	require.Equal(t, []string{"One.", "Two."}, r.Texts())
	require.Equal(t, []string{"One.", "Two."}, texts(t, r))
	require.Equal(t, 1, test.TempWidgetRenderer(t, r).(*remarksRenderer).brush.nImages, "a caution is marked")
	r.Set()
	require.False(t, r.Visible())
}
