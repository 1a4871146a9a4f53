package bench

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/screen"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// The drawers from the top down.
const (
	panelNth = iota
	coatsNth
	swatchesNth
	pictureNth
	letteringNth
	burnNth
	handOffNth
)

// Every control edits the document as one step with a name, shows what came of it,
// and can be undone and done again.
func TestEveryControlIsOneStep(t *testing.T) {
	d := newDesk(t)
	for _, tt := range []controlTest{
		{"ready-made panel", panelNth, func(d *desk) { d.choose("Ready-made", "canvas 8 x 10 in") }, "panel",
			func(d job.Document) bool { return d.Panel.Size == layout.Size{W: 8 * layout.Inch, H: 10 * layout.Inch} }},
		{"kind", panelNth, func(d *desk) { d.choose("Kind", "Tile") }, "panel",
			func(d job.Document) bool { return d.Panel.Kind == layout.Tile }},
		{"width", panelNth, func(d *desk) { d.enter("Width", "3 in") }, "panel",
			func(d job.Document) bool { return d.Panel.Size.W == 76.2 }},
		{"height", panelNth, func(d *desk) { d.enter("Height", "9,5 cm") }, "panel",
			func(d job.Document) bool { return d.Panel.Size.H == 95 }},
		{"edge", panelNth, func(d *desk) { d.enter("Edge depth", "18") }, "panel",
			func(d job.Document) bool { return d.Panel.EdgeDepth == 18 }},
		{"border", panelNth, func(d *desk) { d.enter("Border", "1, 2, 3, 4 mm") }, "border",
			func(d job.Document) bool {
				return d.Border == layout.Border{Left: 1, Right: 2, Top: 3, Bottom: 4}
			}},
		{"unit", panelNth, func(d *desk) { d.choose("Show in", "in") }, "unit",
			func(d job.Document) bool { return d.UnitOf() == layout.Inches }},
		{"stack", coatsNth, func(d *desk) { d.choose("Stack", "slate over cream, bare board beneath") }, "stack",
			func(d job.Document) bool { return d.Stack.Coats[0].Name == "slate" }},
		{"thickness", coatsNth, func(d *desk) { d.enter("graphite", "32,5") }, "thickness",
			func(d job.Document) bool { return d.Stack.Coats[0].ThicknessUM == 32.5 }},
		{"clear coat", coatsNth, func(d *desk) { d.choose("Clear coat", "Satin") }, "clear coat",
			func(d job.Document) bool { return d.Finish == coat.Satin }},
		{"turn right", pictureNth, func(d *desk) { d.tap("Turn right") }, "quarter turn",
			func(d job.Document) bool { return d.Picture.QuarterTurns == 1 }},
		{"mirror", pictureNth, func(d *desk) { d.tick("Mirror") }, "mirror",
			func(d job.Document) bool { return d.Picture.Mirror }},
		{"crop", pictureNth, func(d *desk) { d.enter("Crop x, y, w", "20, 30, 90") }, "crop",
			func(d job.Document) bool { c := d.Picture.Crop; return c.X == 20 && c.Y == 30 && c.W == 90 }},
		{"what burns", pictureNth, func(d *desk) { d.choose("Burn", "Dark parts") }, "what burns",
			func(d job.Document) bool { return d.Picture.Burns == job.BurnsDark }},
		{"tones", pictureNth, func(d *desk) { d.choose("Tones", "Dots in step with light") }, "tones",
			func(d job.Document) bool { return d.Picture.Tones == job.TonesLight }},
		{"machine", burnNth, func(d *desk) { d.choose("Machine", "1.6 W diode, bed 200 x 200 mm") }, "machine",
			func(d job.Document) bool { return d.Machine.OpticalPowerW == 1.6 }},
		{"power", burnNth, func(d *desk) { d.enter("Power", "42,5") }, "power",
			func(d job.Document) bool { return d.Setting.PowerPercent == 42.5 }},
		{"speed", burnNth, func(d *desk) { d.enter("Speed", "25 mm/s") }, "speed",
			func(d job.Document) bool { return d.Setting.Speed == 25 }},
		{"pitch", burnNth, func(d *desk) { d.enter("Pitch", "254dpi") }, "pitch",
			func(d job.Document) bool { return d.Setting.Pitch == layout.Inch/254 }},
		{"passes", burnNth, func(d *desk) { d.enter("Passes", "2") }, "passes",
			func(d job.Document) bool { return d.Setting.Passes == 2 }},
		{"screen", burnNth, func(d *desk) { d.choose("Screen", "Even grain (blue noise)") }, "screen",
			func(d job.Document) bool { return d.Screen.Kind == screen.BlueNoise }},
		{"rows", burnNth, func(d *desk) { d.tick("Rows") }, "screen",
			func(d job.Document) bool { return d.Screen.OneWay }},
		{"least run", burnNth, func(d *desk) { d.enter("Least run", "2") }, "screen",
			func(d job.Document) bool { return d.Screen.MinDot == 2 }},
		{"least gap", burnNth, func(d *desk) { d.enter("Least gap", "3") }, "screen",
			func(d job.Document) bool { return d.Screen.MinGap == 3 }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d.t = t
			d.openDrawer(tt.drawer)
			tt.run(d)
		})
	}
}

// controlTest is something done to a control and what comes of it.
type controlTest struct {
	name   string
	drawer int
	act    func(d *desk)
	step   string
	holds  func(d job.Document) bool
}

// run does it, takes it back, does it again, and leaves the job as it was.
func (tt controlTest) run(d *desk) {
	t := d.t
	t.Helper()
	before := d.s.Document()
	require.False(t, tt.holds(before))
	tt.act(d)
	after := d.s.Document()
	require.True(t, tt.holds(after))
	require.Empty(t, d.says())
	undo, redo := d.s.StepNames()
	require.Equal(t, tt.step, undo)
	require.Empty(t, redo)

	require.False(t, d.toolbar.undo.Disabled())
	test.Tap(d.toolbar.undo)
	d.loop.turn()
	require.Equal(t, before, d.s.Document())
	require.False(t, d.toolbar.redo.Disabled())
	test.Tap(d.toolbar.redo)
	d.loop.turn()
	require.Equal(t, after, d.s.Document())
	require.True(t, d.toolbar.redo.Disabled())
	d.undo() // for the next control
	d.loop.turn()
}

func TestUndoAndRedoAreOfferedWhileThereIsAStep(t *testing.T) {
	d := newDesk(t)
	offered := func() []bool { return []bool{!d.toolbar.undo.Disabled(), !d.toolbar.redo.Disabled()} }
	require.Equal(t, []bool{false, false}, offered())
	d.enter("Border", "9")
	d.enter("Border", "11")
	require.Equal(t, []bool{true, false}, offered())
	test.Tap(d.toolbar.undo)
	d.loop.turn()
	require.Equal(t, "9 mm", d.field("Border").Text(), "controls follow")
	require.Equal(t, []bool{true, true}, offered())
	test.Tap(d.toolbar.undo)
	d.loop.turn()
	require.Equal(t, []bool{false, true}, offered())
	d.enter("Width", "61")
	require.Equal(t, []bool{true, false}, offered(), "a new step ends what could be done again")
}

func TestASlidersDragIsOneStep(t *testing.T) {
	for _, name := range []string{"Mid tone", "Contrast"} {
		t.Run(name, func(t *testing.T) {
			d := newDesk(t)
			d.openDrawer(pictureNth)
			before := d.s.Document()
			s := d.control(name).(*widget.Slider)
			drag := func(from, to float32) {
				for i := range 6 {
					x := s.Size().Width * (from + (to-from)*float32(i)/5)
					s.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, s.Size().Height/2)}})
					d.loop.turn()
				}
				s.DragEnd()
				d.loop.turn()
			}
			drag(0.5, 0.7)
			between := d.s.Document()
			drag(0.7, 0.3)
			require.Negative(t, d.s.Document().Picture.Tone.Mid+d.s.Document().Picture.Tone.Contrast)
			readout := object(d, "row "+name, func(n *widgets.Named) bool { return n.Name() == name }).Readout()
			require.Equal(t, percent(s.Value), readout)
			require.Contains(t, readout, "\u2212")

			require.True(t, d.s.Undo())
			require.Equal(t, between, d.s.Document(), "the second drag")
			require.True(t, d.s.Undo())
			require.Equal(t, before, d.s.Document(), "and the first")
			require.False(t, d.s.Undo())
			d.loop.turn()
			require.Zero(t, s.Value)
		})
	}
}

func TestClosedDrawersSumUpWhatIsInThem(t *testing.T) {
	d := newDesk(t)
	sums := func() (all []string) {
		for _, drawer := range d.Drawers() {
			all = append(all, drawer.Summary())
		}
		return all
	}
	require.Equal(t, []string{"60 x 80 mm, border 6 mm", "graphite, teal, sunflower", "not calibrated", "photo.jpeg", "none", "60 %, 3000 mm/min", "fits"}, sums())

	d.openDrawer(panelNth)
	d.choose("Show in", "in")
	d.enter("Border", "1/4")
	d.openDrawer(burnNth)
	d.enter("Power", "35")
	d.openDrawer(coatsNth)
	d.choose("Stack", "one black coat on white glazed tile")
	d.openDrawer(panelNth)
	d.choose("Ready-made", "canvas 24 x 36 in")
	require.Equal(t, []string{"24 x 36 in, border 0.25 in", "black", "not calibrated", "photo.jpeg", "none", "35 %, 3000 mm/min", "does not fit"}, sums())
}

// What cannot be is refused beside the line, with what to do next, and the job and
// the window stay as they are.
func TestBadValuesAreRefusedBesideTheirLine(t *testing.T) {
	d := newDesk(t)
	before := d.s.Document()
	for _, tt := range []struct {
		drawer     int
		line, text string
		says       []string // parts of the refusal
	}{
		{panelNth, "Border", "160", []string{"160 mm", "60 mm wide", "choose a smaller border"}},
		{panelNth, "Border", "-3", nil},
		{panelNth, "Border", "1, 2, 3", nil},
		{panelNth, "Width", "0", nil},
		{panelNth, "Width", "12 furlongs", nil},
		{panelNth, "Width", "", nil},
		{panelNth, "Height", "1e9 mm", nil},
		{panelNth, "Edge depth", "NaN", nil},
		{coatsNth, "graphite", "0", nil},
		{coatsNth, "graphite", "thick", nil},
		{coatsNth, "graphite", "inf", nil},
		{pictureNth, "Crop x, y, w", "250, 0, 200", nil},
		{pictureNth, "Crop x, y, w", "1, 2", nil},
		{pictureNth, "Crop x, y, w", "a, b, c", nil},
		{burnNth, "Power", "0", []string{"power", "0 "}},
		{burnNth, "Power", "130", []string{"power", "130"}},
		{burnNth, "Power", "strong", nil},
		{burnNth, "Speed", "0", nil},
		{burnNth, "Speed", "90000", nil},
		{burnNth, "Pitch", "0", []string{"pitch"}},
		{burnNth, "Pitch", "5mm", nil},
		{burnNth, "Passes", "0", nil},
		{burnNth, "Passes", "1.5", nil},
		{burnNth, "Passes", "300", nil},
	} {
		t.Run(tt.line+" "+tt.text, func(t *testing.T) {
			d.t = t
			d.openDrawer(tt.drawer)
			d.enter(tt.line, tt.text)
			problem := d.field(tt.line).Problem()
			requireSentence(t, problem)
			for _, part := range tt.says {
				require.Contains(t, problem, part)
			}
			require.Equal(t, tt.text, d.field(tt.line).Text(), "what was typed stays, to be mended")
			require.Equal(t, before, d.s.Document())
			require.False(t, d.s.Dirty())
			require.Empty(t, d.says(), "it is said once")
		})
	}
	d.t = t
	d.openDrawer(burnNth)
	d.enter("Passes", "3")
	require.Equal(t, 3, d.s.Document().Setting.Passes, "the window goes on")
	require.Empty(t, d.field("Passes").Problem())
}

// requireSentence checks that a refusal is one sentence that says what to do next.
func requireSentence(t *testing.T, problem string) {
	t.Helper()
	require.Regexp(t, `^[^\n]{10,}: [^\n:]{5,}$`, problem)
	require.NotRegexp(t, `[.!]$`, problem)
	require.NotContains(t, problem, "%!", "a format gone wrong")
}

func TestACoatIsPickedAndItsThicknessChanged(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(coatsNth)
	rows := func() (all []*widgets.CoatRow) {
		walk(d.Drawers()[coatsNth], func(o fyne.CanvasObject) {
			if r, ok := o.(*widgets.CoatRow); ok {
				all = append(all, r)
			}
		})
		return all
	}()
	require.Len(t, rows, 4)
	test.Tap(rows[2])
	d.enter("sunflower", "40")
	require.Equal(t, 40.0, d.s.Document().Stack.Coats[2].ThicknessUM)
	test.Tap(rows[3])
	require.NotNil(t, d.field("sunflower"), "the ground has no thickness to change")

	d.choose("Stack", "one black coat on white glazed tile")
	d.enter("black", "22")
	require.Equal(t, 22.0, d.s.Document().Stack.Coats[0].ThicknessUM)
}

func TestListsPromptForWhatTheyDoNotHold(t *testing.T) {
	d := newDesk(t)
	require.Equal(t, "Choose a size", d.control("Ready-made").(*widget.Select).PlaceHolder)
	require.Empty(t, d.control("Ready-made").(*widget.Select).Selected)
	d.choose("Ready-made", "board A4, 210 x 297 mm")
	d.enter("Width", "211")
	require.Empty(t, d.control("Ready-made").(*widget.Select).Selected)
}
