package bench

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/require"

	"undercoat/ui/widgets"
)

// coatRows are the coats and the ground in the coats' drawer, from the top down.
func (d *desk) coatRows() (rows []*widgets.CoatRow) {
	walk(d.Drawers()[coatsNth], func(o fyne.CanvasObject) {
		if r, ok := o.(*widgets.CoatRow); ok {
			rows = append(rows, r)
		}
	})
	return rows
}

// order is the job's coats from the top down.
func (d *desk) order() string {
	var names []string
	for _, c := range d.s.Document().Stack.Coats {
		names = append(names, c.Name)
	}
	return strings.Join(names, " ")
}

func TestCoatsAreDraggedIntoAnotherOrder(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(coatsNth)
	before := d.s.Document()
	require.Equal(t, "graphite teal sunflower", d.order())
	row := d.coatRows()[0]
	tall := row.Size().Height
	for _, y := range []float32{0.5, 1.2, 1.8, 2.4} {
		row.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(20, y*tall)}})
		d.loop.turn()
	}
	require.Equal(t, before, d.s.Document(), "until it is let go")
	row.DragEnd()
	d.loop.turn()
	require.Equal(t, "teal sunflower graphite", d.order())
	require.False(t, d.s.Document().Stack.Curve.Calibrated)
	undo, _ := d.s.StepNames()
	require.Equal(t, "order of the coats", undo)
	require.Equal(t, "teal, sunflower, graphite", d.Drawers()[coatsNth].Summary())
	d.enter("graphite", "33") // it is the one that stays picked
	require.Equal(t, 33.0, d.s.Document().Stack.Coats[2].ThicknessUM)
	d.undo()
	d.undo()
	d.loop.turn()
	require.Equal(t, before, d.s.Document(), "one step")
}

func TestCoatsAreMovedByKeysAndButtons(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(coatsNth)
	require.True(t, d.button("Move up").Disabled(), "the top coat is picked")
	d.tap("Move down")
	require.Equal(t, "teal graphite sunflower", d.order())
	d.tap("Move down")
	require.Equal(t, "teal sunflower graphite", d.order())
	require.True(t, d.button("Move down").Disabled())
	d.tap("Move up")
	require.Equal(t, "teal graphite sunflower", d.order())

	keyboard = fyne.KeyModifierAlt
	var row desktop.Keyable = d.coatRows()[2]
	row.KeyDown(&fyne.KeyEvent{Name: fyne.KeyUp})
	d.loop.turn()
	require.Equal(t, "teal sunflower graphite", d.order())
	require.Equal(t, fyne.Focusable(d.coatRows()[1]), d.win.Canvas().Focused())
}
