package widgets

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"
)

var ribbonSize = fyne.NewSize(900, 130)

type doses struct{ moved, ended []float64 }

func shownRibbon(t *testing.T) (*DepthRibbon, *doses, *stage) {
	r := demoRibbon()
	r.held = func() fyne.KeyModifier { return 0 }
	d := &doses{}
	r.OnDose = func(dose float64) { d.moved = append(d.moved, dose) }
	r.OnDoseEnded = func(dose float64) { d.ended = append(d.ended, dose) }
	s := show(t, variants["dark"], r, ribbonSize)
	return r, d, s
}

func (r *DepthRibbon) place(doseJCM2 float64) fyne.Position {
	return fyne.NewPos(r.axis().at(doseJCM2), 60)
}

func TestDragTheSetting(t *testing.T) {
	r, d, _ := shownRibbon(t)
	from := r.place(128).AddXY(4, 0) // a little beside the marker
	primary.drag(r, from, r.place(60).AddXY(4, 0))
	require.InDelta(t, 60, d.moved[len(d.moved)-1], 0.5)
	require.Equal(t, []float64{r.Dose()}, d.ended)
	require.InDelta(t, 60, r.Dose(), 0.5)
	for _, dose := range d.moved {
		require.InDelta(t, math.Round(dose*2)/2, dose, 1e-9, "doses are round: half a J/cm2 to a pixel here")
	}

	primary.drag(r, r.place(r.Dose()), r.place(500))
	require.Equal(t, 300.0, r.Dose(), "not past the ribbon's end")
	primary.drag(r, r.place(300), r.place(-50))
	require.Zero(t, r.Dose())
}

func TestAStrayPressMovesNothing(t *testing.T) {
	r, d, _ := shownRibbon(t)
	primary.drag(r, r.place(200), r.place(250))
	hand{button: desktop.MouseButtonSecondary}.drag(r, r.place(128), r.place(150))
	primary.press(r, r.place(128))
	r.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	require.Empty(t, d.moved)
	require.Empty(t, d.ended)
	require.Equal(t, 128.0, r.Dose())
}

func TestSetDoseDoesNotCallBack(t *testing.T) {
	r, d, _ := shownRibbon(t)
	r.SetDose(50)
	require.Equal(t, 50.0, r.Dose())
	require.Empty(t, d.moved)
}

func TestKeysMoveTheSetting(t *testing.T) {
	r, d, _ := shownRibbon(t)
	strike(r, fyne.KeyRight)
	require.Equal(t, []float64{130}, d.moved, "300 / 200 rounded up to 2")
	holdKey(r, fyne.KeyLeft, 3)
	require.Equal(t, []float64{130, 128, 126, 124}, d.moved)
	require.Equal(t, []float64{130, 124}, d.ended, "a held key is one move")
	r.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	strike(r, fyne.KeyRight)
	require.Equal(t, 144.0, r.Dose())
	strike(r, fyne.KeyUp)
	require.Len(t, d.moved, 5)
	r.SetDose(0)
	strike(r, fyne.KeyLeft)
	require.Len(t, d.ended, 3, "a key that moves nothing ends nothing")
}

func TestNudgeEndsWithTheFocus(t *testing.T) {
	r, d, _ := shownRibbon(t)
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	require.Empty(t, d.ended)
	r.FocusLost()
	require.Equal(t, []float64{130}, d.ended)
}

func TestRibbonReadout(t *testing.T) {
	r, _, _ := shownRibbon(t)
	var asked float64
	r.Describe = func(dose float64) string { asked = dose; return "teal" }
	var dose float64
	var inside bool
	r.OnHover = func(d float64, in bool) { dose, inside = d, in }

	hover(r, r.place(75))
	require.True(t, inside)
	require.InDelta(t, 75, dose, 1e-3)
	require.InDelta(t, 75, asked, 1e-3)
	hover(r, fyne.NewPos(2, 60))
	require.False(t, inside, "left of no dose")
	r.MouseOut()
	require.False(t, inside)
	require.Equal(t, 128.0, asked, "away from the ribbon the setting is described")
	require.Equal(t, desktop.DefaultCursor, r.Cursor())
	hover(r, r.place(129))
	require.Equal(t, desktop.HResizeCursor, r.Cursor())
}

// texts are what a drawn widget has written.
func texts(t *testing.T, w fyne.Widget) (all []string) {
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *canvas.Text:
			all = append(all, o.Text)
		case *fyne.Container:
			for _, c := range o.Objects {
				walk(c)
			}
		}
	}
	for _, o := range test.TempWidgetRenderer(t, w).Objects() {
		walk(o)
	}
	return all
}

func TestRibbonWritesWhatItKnows(t *testing.T) {
	r, _, _ := shownRibbon(t)
	const notice = "uncalibrated, colours and depth are a guess"
	require.Subset(t, texts(t, r), []string{notice, "through graphite", "through teal", "ground scorches", "J/cm²", "128 J/cm²"})
	r.SetUncalibrated(false)
	r.SetScorch(math.Inf(1))
	r.SetBreakThroughs([]BreakThrough{{Coat: "graphite", DoseJCM2: 45}, {Coat: "teal", DoseJCM2: math.Inf(1)}})
	got := texts(t, r)
	for _, gone := range []string{notice, "through teal", "ground scorches"} {
		require.NotContains(t, got, gone)
	}
	require.Contains(t, got, "through graphite")
}

func TestRibbonShowsTheLooks(t *testing.T) {
	for name, variant := range variants {
		t.Run(name, func(t *testing.T) {
			r := NewDepthRibbon()
			s := show(t, variant, r, ribbonSize)
			looks := plain(3, 1, graphite)
			copy(looks.Pix[4:8], plain(1, 1, teal).Pix)
			copy(looks.Pix[8:12], plain(1, 1, cream).Pix)
			r.SetLooks(looks, 300)
			r.SetDose(10)
			img := s.capture("ribbon-plain-" + name)
			y := ribbonHead + ribbonNames + 6
			for dose, want := range map[float64]any{2: graphite, 150: teal, 298: cream} {
				x, _ := pixel(r.place(dose))
				require.Equal(t, want, at(img, x, y), "%v J/cm2", dose)
			}
		})
	}
}

func TestEmptyRibbonIsHarmless(t *testing.T) {
	r := NewDepthRibbon()
	s := show(t, variants["dark"], r, ribbonSize)
	primary.drag(r, fyne.NewPos(14, 60), fyne.NewPos(400, 60))
	strike(r, fyne.KeyRight)
	hover(r, fyne.NewPos(50, 50))
	r.SetHistogram([]float64{0, 0, 0})
	s.capture("ribbon-empty")
	require.Zero(t, r.Dose())
	require.False(t, r.over)
}

func TestHatchStaysInItsBox(t *testing.T) {
	lines := hatch(100, 20, 160, 70, 9)
	require.NotEmpty(t, lines)
	for _, l := range lines {
		for _, x := range []float32{l.x0, l.x1} {
			require.True(t, x >= 100-1e-3 && x <= 160+1e-3, "%v", l)
		}
		for _, y := range []float32{l.y0, l.y1} {
			require.True(t, y >= 20-1e-3 && y <= 70+1e-3, "%v", l)
		}
		require.InDelta(t, float64(l.x1-l.x0), float64(l.y0-l.y1), 1e-3, "at 45 degrees")
	}
	require.Empty(t, hatch(10, 10, 10, 20, 9))
	require.Empty(t, hatch(10, 20, 20, 20, 9))
}

func TestRibbonLabelsDoNotRunIntoEachOther(t *testing.T) {
	width := func(string) float32 { return 90 }
	a := doseAxis{x0: 14, x1: 500, fullJCM2: 300}
	for name, places := range map[string][]float32{
		"apart": {80, 250, 420}, "close": {80, 110, 150}, "at the ends": {14, 20, 500}, "all in one place": {200, 200, 200},
	} {
		t.Run(name, func(t *testing.T) {
			var labels []ribbonLabel
			for _, p := range places {
				labels = append(labels, ribbonLabel{text: "through a coat", at: p})
			}
			end := a.x0
			for _, l := range laidOut(labels, a, width) {
				require.GreaterOrEqual(t, l.x, end)
				end = l.x + min(90, l.room)
				require.LessOrEqual(t, end, a.x1+0.01)
			}
		})
	}
}

// What a move of the marker costs before anything is painted.
func BenchmarkRibbonDrag(b *testing.B) {
	r := demoRibbon()
	w := test.NewTempWindow(b, container.NewStack(r))
	w.Resize(ribbonSize)
	primary.press(r, r.place(r.Dose()))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		r.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: r.place(float64(40 + i%200))}})
	}
}

func TestRibbonMarksTheSteps(t *testing.T) {
	r, _, s := shownRibbon(t)
	require.NotContains(t, texts(t, r), "step 1")
	r.SetSteps([]float64{60, 61, 150, 1e6})
	s.capture("ribbon-steps")
	got := texts(t, r)
	require.Subset(t, got, []string{"step 1", "step 3"})
	require.NotContains(t, got, "step 2", "it would run into the first")
	require.NotContains(t, got, "step 4", "it lies past the end")
}
