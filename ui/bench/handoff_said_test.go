package bench

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

func plainSum(v float64) string { return fmt.Sprintf("%.2f", v) }

// told is everything that the open sections of the drawer say.
func (d *desk) told() string {
	var all []string
	walk(d.handOff.drawer, func(o fyne.CanvasObject) {
		if r, ok := o.(*widgets.Remarks); ok {
			all = append(all, r.Texts()...)
		}
	})
	return strings.Join(all, "\n")
}

// foreseen waits until the drawer says what the hand-off will.
func (d *desk) foreseen() export.Note {
	d.t.Helper()
	d.until("what the hand-off will say", func() bool { return !d.handOff.foresight.awaited() })
	require.NoError(d.t, d.handOff.foresight.err)
	return *d.handOff.foresight.note()
}

// bedOf gives the job a machine of another bed.
func (d *desk) bedOf(w, h layout.MM) {
	d.t.Helper()
	require.NoError(d.t, d.s.Edit("machine", "", func(doc *job.Document) error {
		doc.Machine.Bed, doc.Machine.RunUp = layout.Bed{W: w, H: h}, 5
		return nil
	}))
	d.loop.turn()
}

// Design: the cautions that are always shown where a burn is prepared.
func TestEveryStandingCautionIsInTheDrawer(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(handOffNth)
	told := d.told()
	require.Len(t, export.Cautions(), 9)
	for _, c := range export.Cautions() {
		require.Contains(t, told, c)
	}
}

func TestTheDrawerSaysHowThePanelFits(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(handOffNth)
	require.Contains(t, d.told(), "The panel fits as it is.")
	require.False(t, d.handOff.instead.Visible())
	require.False(t, d.handOff.parts.sections.section.Visible())

	d.bedOf(95, 60) // as it is, 60 mm and twice the run-up fit, and 80 mm do not
	require.Contains(t, d.told(), "The panel fits turned by a quarter clockwise")
	require.Equal(t, "fits turned", d.handOff.drawer.Summary())

	d.bedOf(70, 50)
	require.Contains(t, d.told(), "The panel is burned in 2 sections")
	require.True(t, d.handOff.parts.sections.section.Visible())
}

func TestABedSmallerThanThePictureBothWaysOffersABorder(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(handOffNth)
	d.bedOf(50, 50)
	told := d.told()
	require.Contains(t, told, "The panel does not fit, upright or turned.")
	require.Contains(t, told, "would still fit")
	d.tap("Set a border that fits")
	require.NotContains(t, d.told(), "does not fit")
	p, err := d.s.Plan()
	require.NoError(t, err)
	require.NotEqual(t, layout.NotAtAll, p.Fit.How)
	undo, _ := d.s.StepNames()
	require.Equal(t, "border", undo, "it can be taken back")

	// A bed that holds nothing says what to do, and offers no border that would not do.
	d.bedOf(10.1, 10.1)
	require.Contains(t, d.told(), "choose a smaller panel")
	require.False(t, d.handOff.instead.Visible())
}

func TestSectionsAreListedWithMarksAndSeams(t *testing.T) {
	d := newDesk(t)
	d.bedOf(70, 50)
	d.openSection(handOffNth, "Sections")
	require.Contains(t, d.told(), "Cut evenly so far")
	n := d.foreseen()
	require.Len(t, n.Sections, 2)
	told := d.told()
	require.NotContains(t, told, "Cut evenly so far")
	for _, s := range n.Sections {
		require.Contains(t, told, fmt.Sprintf("Section %d: ", s.Number))
		for _, m := range s.Marks {
			require.Contains(t, told, fmt.Sprintf("Pencil mark on the %s side, %s from its top end", m.Side, layout.Millimetre.Format(m.FromEnd)))
		}
	}
	require.Contains(t, told, fmt.Sprintf("Move the panel %s, top end first", layout.Millimetre.Format(n.Sections[1].Move.By)))
	require.Len(t, n.Seams, 1)
	require.Len(t, n.Seams[0].Looks, 3)
	for _, l := range n.Seams[0].Looks {
		require.Contains(t, told, layout.Millimetre.Format(l.Off)+": "+l.Words)
	}
	_, written := d.handedOff()
	require.Equal(t, written.Sections[0].Marks, n.Sections[0].Marks, "what was said is what is written")
	require.Equal(t, written.Seams, n.Seams)
}

func TestTheOutlineAndTheToleranceAreTold(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "On the bed")
	p, err := d.s.Plan()
	require.NoError(t, err)
	told := d.told()
	u := layout.Millimetre
	for _, s := range p.Placement.Walk() {
		require.Contains(t, told, fmt.Sprintf("x %s, y %s", signed(u, s.At.X), signed(u, s.At.Y)))
	}
	n := export.NewNote(p.Placement, d.s.Document().Reach(), p.Fit)
	require.Len(t, n.Slips, 2)
	require.Contains(t, told, "2 mm too far right: left 8 mm, right 4 mm")
	require.Contains(t, told, "0.5° askew")
	require.Contains(t, told, u.Format(n.Even.Least)+" or more looks even from 2 m")
	for _, c := range layout.WalkCautions() {
		require.Contains(t, told, widgets.Sentence(c))
	}
}

func TestTheBurnEndsAtATimeOfDay(t *testing.T) {
	d := newDesk(t)
	d.handOff.parts.times.now = func() time.Time { return time.Date(2026, 5, 1, 23, 55, 0, 0, time.UTC) }
	d.openSection(handOffNth, "Time")
	n := d.foreseen()
	require.Greater(t, n.BurnTime(), 6*time.Minute)
	_, ends := layout.BurnEnds(d.handOff.parts.times.now(), n.BurnTime())
	require.Equal(t, 1, ends.Days)
	require.Contains(t, d.told(), fmt.Sprintf("Begun now, at 23:55, it ends at %02d:%02d the next day.", ends.Hour, ends.Minute))
	require.Contains(t, d.told(), "Burns about "+layout.FormatDuration(n.BurnTime()))
	require.Equal(t, "09:05, 3 days later", clockText(layout.Clock{Hour: 9, Minute: 5, Days: 3}))
}

func TestAFasterSettingOfTheSameDoseIsTaken(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "Time")
	before := d.s.Document()
	p, err := d.s.Plan()
	require.NoError(t, err)
	faster := d.handOff.parts.times.offered
	require.NotEmpty(t, faster)
	require.True(t, slices.IsSortedFunc(faster, func(a, b burn.EqualSetting) int { return int(a.Time - b.Time) }))
	picks := fasterPicks(faster)
	test.Tap(object(d, "the fastest", func(r *widgets.PickRow) bool { return r.Label() == picks[0].Label }))
	d.loop.turn()
	after := d.s.Document()
	require.Equal(t, faster[0].Setting, after.Setting)
	require.Less(t, after.MostBurnTime(p.Placement.Grid), before.MostBurnTime(p.Placement.Grid))
	now, err := d.s.Plan()
	require.NoError(t, err)
	require.InEpsilon(t, p.DoseJCM2, now.DoseJCM2, 1e-9)
}

// What is foreseen follows the job, and nothing is worked out while nobody looks.
func TestForesightFollowsTheJobWhileItIsLookedAt(t *testing.T) {
	d := newDesk(t)
	d.settle()
	require.True(t, d.handOff.foresight.awaited())
	require.Empty(t, d.handOff.foresight.of.d.Name, "nobody looks")
	d.openDrawer(handOffNth)
	first := d.foreseen()
	require.NoError(t, d.s.Edit("speed", "", func(doc *job.Document) error { doc.Setting.Speed /= 2; return nil }))
	d.loop.turn()
	require.Nil(t, d.handOff.foresight.note(), "what is known is not of this job")
	second := d.foreseen()
	require.Greater(t, second.BurnTimeS, 1.5*first.BurnTimeS)
	d.handOff.drawer.SetOpen(false)
	require.Nil(t, d.handOff.foresight.note())
}
