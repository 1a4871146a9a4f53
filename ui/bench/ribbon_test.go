package bench

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// onRibbon is where a dose is shown: 14 pixels are left free on either side.
func (d *desk) onRibbon(doseJCM2 float64) fyne.Position {
	w := d.ribbon.widget.Size().Width
	return fyne.NewPos(14+(w-28)*float32(doseJCM2/d.ribbon.shown.FullJCM2), 60)
}

func TestDraggingTheMarkerSetsThePowerInOneStep(t *testing.T) {
	d := newDesk(t)
	d.settle()
	before := d.s.Document()
	from := d.onRibbon(d.ribbon.widget.Dose())
	to := d.onRibbon(d.ribbon.widget.Dose() * 0.6)
	r := d.ribbon.widget
	press := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary}
	r.MouseDown(press)
	for i := 1; i <= 8; i++ {
		at := fyne.NewPos(from.X+(to.X-from.X)*float32(i)/8, from.Y)
		r.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at}})
		d.loop.turn()
		power := d.s.Document().Setting.PowerPercent
		require.Less(t, power, before.Setting.PowerPercent)
		require.Equal(t, plainNumber(power), plainNumber(d.ribbon.powerFor(r.Dose())), "the marker stands at the power's dose")
	}
	r.MouseUp(press)
	r.DragEnd()
	d.loop.turn()
	require.InDelta(t, 0.6*before.Setting.PowerPercent, d.s.Document().Setting.PowerPercent, 0.5)
	undo, _ := d.s.StepNames()
	require.Equal(t, "power", undo)
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document())
	require.False(t, d.s.Undo())
}

func TestTheMarkerMovesByKeys(t *testing.T) {
	d := newDesk(t)
	d.settle()
	before := d.s.Document().Setting.PowerPercent
	d.ribbon.widget.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	d.ribbon.widget.KeyUp(&fyne.KeyEvent{Name: fyne.KeyRight})
	d.loop.turn()
	require.Greater(t, d.s.Document().Setting.PowerPercent, before)
}

func TestThePowerStaysWhereSomethingBurns(t *testing.T) {
	d := newDesk(t)
	d.settle()
	d.ribbon.setDose(0)
	require.Equal(t, 0.1, d.s.Document().Setting.PowerPercent)
	d.ribbon.setDose(1e9)
	require.Equal(t, 100.0, d.s.Document().Setting.PowerPercent)
	require.Empty(t, d.says(), "neither is refused")
}

func TestTheRibbonSaysWhatShows(t *testing.T) {
	d := newDesk(t)
	d.settle()
	coats := d.s.Document().Stack.Coats
	require.Contains(t, d.ribbon.describe(1), "power: "+coats[0].Name+", 0 µm deep")
	// At this coarse pitch a beam leaves lines between the rows untouched.
	says := d.ribbon.describe(d.ribbon.shown.Breaks[1].DoseJCM2)
	require.Contains(t, says, coats[0].Name)
	require.Contains(t, says, d.s.Document().Stack.Ground.Name)
}

func TestASettingOfTheSameDoseIsPicked(t *testing.T) {
	d := newDesk(t)
	before, err := d.s.Plan()
	require.NoError(t, err)
	d.tap("Same dose...")
	d.loop.turn()
	var other *widgets.PickRow
	walk(d.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if row, ok := o.(*widgets.PickRow); ok && !row.Chosen() && other == nil {
			other = row
		}
	})
	require.NotNil(t, other)
	test.Tap(other)
	d.loop.turn()
	require.Nil(t, d.win.Canvas().Overlays().Top())
	after, err := d.s.Plan()
	require.NoError(t, err)
	require.InDelta(t, before.DoseJCM2, after.DoseJCM2, 1e-6)
	undo, _ := d.s.StepNames()
	require.Equal(t, "setting of the same dose", undo)
}

func (d *desk) click(p layout.Point) {
	press := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: d.place(p)}, Button: desktop.MouseButtonPrimary}
	d.easel.MouseDown(press)
	d.easel.MouseUp(press)
	d.loop.turn()
}

func TestCoresAreCutAtThePointerAndPinned(t *testing.T) {
	d := newDesk(t)
	d.settle()
	require.Equal(t, "where every dot burns", d.cores.here.Reading().Where)
	full := d.cores.here.Reading().DoseJCM2
	d.hover(layout.Point{X: 10, Y: 5})
	d.until("a core at the pointer", func() bool { return d.cores.here.Reading().Where == "about the pointer" })
	require.Less(t, d.cores.here.Reading().DoseJCM2, full)

	require.False(t, d.cores.pinBox.Visible())
	d.click(layout.Point{X: -15, Y: 5})
	require.True(t, d.cores.pinBox.Visible())
	d.until("a pinned core", func() bool { return d.cores.pinned.Reading().Where != "" })
	require.Contains(t, d.cores.pinned.Reading().Where, "x −15")
	d.hover(layout.Point{X: 15, Y: -20})
	d.until("two cores that differ", func() bool {
		return d.cores.here.Reading().DoseJCM2 != d.cores.pinned.Reading().DoseJCM2
	})
	d.easel.MouseOut()
	d.loop.turn()
	require.Equal(t, "where every dot burns", d.cores.here.Reading().Where)
	d.cores.unpin()
	require.False(t, d.cores.pinBox.Visible())
	undo, _ := d.s.StepNames()
	require.Empty(t, undo, "looking changes nothing")
}

func TestDraggingTheCropPinsNothing(t *testing.T) {
	d := newDesk(t)
	d.closer()
	d.drag(layout.Point{}, layout.Point{X: 8, Y: 4})
	require.Nil(t, d.cores.pin)
}

func TestComparingShowsTheOtherBeyondTheLine(t *testing.T) {
	d := newDesk(t)
	d.settle()
	d.tap("Compare")
	d.settle()
	require.Equal(t, [2]string{plainNumber(d.s.Document().Setting.PowerPercent) + " % power", d.split.power.Text + " % power"}, d.easel.Compared())
	for i, r := range d.split.cases {
		d.split.with.SetSelectedIndex(i)
		d.settle()
		require.Empty(t, d.says(), r.label)
		require.NotEqual(t, [2]string{}, d.easel.Compared(), r.label)
	}
	d.split.with.SetSelectedIndex(0)
	d.split.power.SetText("130")
	d.split.power.OnSubmitted("130")
	require.Contains(t, d.says(), "130")
	d.tap("End comparing")
	d.settle()
	require.Equal(t, [2]string{}, d.easel.Compared())
	undo, _ := d.s.StepNames()
	require.Empty(t, undo, "comparing changes nothing")
}

func TestPowersArePickedFromTheStrip(t *testing.T) {
	d := newDesk(t)
	d.tap("Powers")
	var cards []*widgets.Card
	gather := func() {
		cards = nil
		walk(d.win.Content(), func(o fyne.CanvasObject) {
			if c, ok := o.(*widgets.Card); ok {
				cards = append(cards, c)
			}
		})
	}
	d.until("five cards", func() bool { gather(); return len(cards) == 5 })
	require.True(t, cards[2].Chosen())
	require.False(t, d.easel.Visible())
	wanted := session.StripPowers(d.s.Document())[3]
	test.Tap(cards[3])
	d.loop.turn()
	require.Equal(t, wanted, d.s.Document().Setting.PowerPercent)
	d.until("a strip about the new power", func() bool { gather(); return cards[2].Title() == plainNumber(wanted)+" %" })

	d.tap("Coats")
	coats := len(d.s.Document().Stack.Coats)
	d.until("a card a layer", func() bool { gather(); return len(cards) == coats+1 })
	require.Equal(t, d.s.Document().Stack.Coats[0].Name, cards[0].Title())
	require.NoError(t, d.s.Edit("match", "", func(doc *job.Document) error { doc.Match = job.MatchSteps; return nil }))
	d.until("why there are none", func() bool { return d.says() != "" })
	require.Contains(t, d.says(), "matched by colour")
	d.tap("Proof")
	require.True(t, d.easel.Visible())
	gather()
	require.Empty(t, cards)
}
