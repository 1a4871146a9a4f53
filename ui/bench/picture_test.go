package bench

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// Every control of the picture's sections is one step too.
func TestEveryControlOfThePictureIsOneStep(t *testing.T) {
	d := newDesk(t)
	for _, tt := range []struct {
		section string
		controlTest
	}{
		{"Framing", controlTest{"turn left", 0, func(d *desk) { d.tap("Turn left") }, "quarter turn",
			func(d job.Document) bool { return d.Picture.QuarterTurns == 3 }}},
		{"Framing", controlTest{"zoom", 0, func(d *desk) { d.slide("Zoom", 2) }, "crop",
			func(d job.Document) bool {
				c := d.Picture.Crop
				return math.Abs(c.H-120) < 1e-6 && math.Abs(c.Y-60) < 1e-6
			}}},
		{"Straighten", controlTest{"angle", 0, func(d *desk) { d.enter("Angle", "−2,5") }, "straighten",
			func(d job.Document) bool { return d.Picture.StraightenDegrees == -2.5 }}},
		{"Tone", controlTest{"black", 0, func(d *desk) { d.slide("Black point", 12) }, "black and white points",
			func(d job.Document) bool { return d.Picture.Tone.Black == 12 }}},
		{"Tone", controlTest{"white", 0, func(d *desk) { d.slide("White point", 90) }, "black and white points",
			func(d job.Document) bool { return d.Picture.Tone.White == 90 }}},
		{"Detail", controlTest{"local contrast", 0, func(d *desk) { d.slide("Local contrast", 2) }, "local contrast",
			func(d job.Document) bool { return d.Picture.Tone.Local == picture.LocalContrast{Limit: 2, Tile: 5} }}},
		{"Detail", controlTest{"tile", 0, func(d *desk) { d.enter("In parts of", "1 in") }, "local contrast",
			func(d job.Document) bool { return d.Picture.Tone.Local.Tile == layout.Inch }}},
		{"Detail", controlTest{"noise", 0, func(d *desk) { d.slide("Smooth grain", 4) }, "noise",
			func(d job.Document) bool { return d.Picture.Tone.Noise == picture.Noise{Strength: 4, Radius: 0.4} }}},
		{"Detail", controlTest{"noise radius", 0, func(d *desk) { d.enter("Grain within", "0.5") }, "noise",
			func(d job.Document) bool { return d.Picture.Tone.Noise.Radius == 0.5 }}},
		{"Detail", controlTest{"sharpen", 0, func(d *desk) { d.slide("Sharpen", 1.5) }, "sharpening",
			func(d job.Document) bool { s := d.Picture.Tone.Sharpen; return s.Amount == 1.5 && s.Radius > 0 }}},
		{"Detail", controlTest{"radius", 0, func(d *desk) { d.enter("Radius", "0.3 mm") }, "sharpening",
			func(d job.Document) bool { return d.Picture.Tone.Sharpen.Radius == 0.3 }}},
		{"Detail", controlTest{"threshold", 0, func(d *desk) { d.enter("Threshold", "2.5") }, "sharpening",
			func(d job.Document) bool { return d.Picture.Tone.Sharpen.Threshold == 2.5 }}},
		{"Detail", controlTest{"suggested sharpening", 0, func(d *desk) { d.tap("Suggest for this pitch and beam") }, "sharpening",
			func(d job.Document) bool { return d.Picture.Tone.Sharpen.Amount > 0 }}},
		{"Grey mix", controlTest{"red", 0, func(d *desk) { d.slide("Red", 0.6) }, "grey mix",
			func(d job.Document) bool { return d.Picture.Mix.R == 0.6 }}},
		{"Fade", controlTest{"shape", 0, func(d *desk) { d.choose("Shape", "Oval") }, "fade",
			func(d job.Document) bool { return d.Picture.Fade.Shape == picture.FadeOval }}},
		{"Fade", controlTest{"inset", 0, func(d *desk) { d.enter("Inset", "3") }, "fade",
			func(d job.Document) bool { return d.Picture.Fade.Inset == 3 }}},
		{"Fade", controlTest{"corner", 0, func(d *desk) { d.enter("Corner radius", "4") }, "fade",
			func(d job.Document) bool { return d.Picture.Fade.Corner == 4 }}},
		{"Fade", controlTest{"feather", 0, func(d *desk) { d.enter("Feather", "1 cm") }, "fade",
			func(d job.Document) bool { return d.Picture.Fade.Feather == 10 }}},
		{"Fade", controlTest{"vignette", 0, func(d *desk) { d.slide("Vignette", 0.4) }, "fade",
			func(d job.Document) bool { return d.Picture.Fade.Vignette == 0.4 }}},
		{"Match", controlTest{"match", 0, func(d *desk) { d.choose("Match by", "Colour, by steps") }, "match",
			func(d job.Document) bool { return d.Match == job.MatchSteps }}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d.t = t
			d.openSection(pictureNth, tt.section)
			tt.run(d)
		})
	}
}

func TestBadValuesOfThePictureAreRefusedBesideTheirLine(t *testing.T) {
	d := newDesk(t)
	before := d.s.Document()
	for _, tt := range []struct{ section, line, text string }{
		{"Straighten", "Angle", "60"},
		{"Straighten", "Angle", "steep"},
		{"Detail", "In parts of", "0.5"},
		{"Detail", "Grain within", "9"},
		{"Detail", "Radius", "5 mm"},
		{"Detail", "Threshold", "50"},
		{"Detail", "Threshold", "-1"},
		{"Fade", "Inset", "2 m"},
		{"Fade", "Feather", "1500"},
	} {
		t.Run(tt.line+" "+tt.text, func(t *testing.T) {
			d.t = t
			d.openSection(pictureNth, tt.section)
			d.enter(tt.line, tt.text)
			requireSentence(t, d.field(tt.line).Problem())
			require.Equal(t, before, d.s.Document())
			require.Empty(t, d.says(), "it is said once")
		})
	}
}

func TestThePointsStayInOrder(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Tone")
	d.slide("White point", 50)
	d.slide("Black point", 80)
	require.Equal(t, 49.0, d.s.Document().Picture.Tone.Black)
	require.Equal(t, 49.0, d.control("Black point").(*widget.Slider).Value)
	d.slide("White point", 20)
	require.Equal(t, 50.0, d.s.Document().Picture.Tone.White)
	d.slide("White point", 100)
	require.Zero(t, d.s.Document().Picture.Tone.White, "as a job without one has it")
}

func TestWhatThePointsCutOffIsTold(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Tone")
	d.settle()
	told := d.drawers[pictureNth].(*pictureDrawer).tone.clipped
	require.Equal(t, []string{"0.0 % of the picture is cut off to black, 0.0 % to white."}, told.Texts())
	d.slide("White point", 60)
	d.settle()
	require.Regexp(t, `^0\.0 % .* black, [1-9][0-9.]* % to white\.$`, told.Texts()[0])
}

func TestSuggestedPointsAreOneStep(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Tone")
	before := d.s.Document()
	button := d.button("Suggest both points")
	test.Tap(button)
	require.True(t, button.Disabled(), "while it is worked out")
	d.until("an answer", func() bool { return !button.Disabled() })
	tone := d.s.Document().Picture.Tone
	require.Positive(t, tone.Black)
	require.Greater(t, tone.White, tone.Black)
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document())
}

// curveHand plays the hand on the curve editor.
func curveHand(c *widgets.CurveEditor, from, to fyne.Position) {
	c.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	for i := range 5 {
		share := float32(i+1) / 5
		pos := fyne.NewPos(from.X+(to.X-from.X)*share, from.Y+(to.Y-from.Y)*share)
		c.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: pos}})
	}
	c.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	c.DragEnd()
}

func TestTheCurveIsDrawnInOneStep(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Tone")
	before := d.s.Document()
	c := object(d, "curve", func(*widgets.CurveEditor) bool { return true })
	straight := d.button("No curve")
	require.True(t, straight.Disabled())
	middle := fyne.NewPos(c.Size().Width/2, c.Size().Height/2)
	curveHand(c, middle, middle.AddXY(-20, -30))
	d.loop.turn()
	drawn := d.s.Document()
	require.Len(t, drawn.Picture.Tone.Curve.Points(), 3)
	require.Equal(t, drawn.Picture.Tone.Curve, c.Curve())
	undo, _ := d.s.StepNames()
	require.Equal(t, "tone curve", undo)
	curveHand(c, middle.AddXY(-20, -30), middle)
	d.loop.turn()
	require.NotEqual(t, drawn, d.s.Document())
	d.s.Undo()
	require.Equal(t, drawn, d.s.Document())
	d.s.Undo()
	require.Equal(t, before, d.s.Document())
	d.s.Redo()
	d.loop.turn()
	require.Equal(t, drawn.Picture.Tone.Curve, c.Curve(), "the editor follows")
	d.tap("No curve")
	require.Equal(t, picture.Curve{}, d.s.Document().Picture.Tone.Curve)
}

func TestGreyWeightsSumToOne(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Grey mix")
	eye := d.button("As the eye weighs them")
	require.True(t, eye.Disabled())
	for _, weight := range []struct {
		name  string
		value float64
	}{{"Red", 0.5}, {"Green", 0}, {"Blue", 1}, {"Green", 0.3}, {"Red", 1}, {"Red", 0.2}} {
		d.slide(weight.name, weight.value)
		m := d.s.Document().Picture.Mix
		require.InDelta(t, 1, m.R+m.G+m.B, 1e-9)
		require.InDelta(t, weight.value, map[string]float64{"Red": m.R, "Green": m.G, "Blue": m.B}[weight.name], 1e-9, "the hand leads")
		require.Empty(t, d.says())
	}
	d.tap("As the eye weighs them")
	require.Equal(t, picture.Mix{}, d.s.Document().Picture.Mix)
	require.InDelta(t, 0.72, d.control("Green").(*widget.Slider).Value, 0.01)
}

func TestARoundFadeHasNoCorners(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Fade")
	require.True(t, d.field("Corner radius").Visible())
	d.choose("Shape", "Oval")
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if f, ok := o.(*widgets.Field); ok {
			require.NotEqual(t, "Corner radius", f.Name())
		}
	})
}

func TestWhatMatchesIsOfferedAsTheMachineCan(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Match")
	require.Contains(t, d.control("Match by").(*widget.Select).Options, "Colour, by power")
	d.openDrawer(burnNth)
	d.choose("Machine", "1.6 W diode, bed 200 x 200 mm")
	d.openSection(pictureNth, "Match")
	sel := d.control("Match by").(*widget.Select)
	require.NotContains(t, sel.Options, "Colour, by power")
	require.Len(t, sel.Options, 3)
	require.Equal(t, "Lightness", sel.Selected)
	d.choose("Match by", "Colour, by nested steps")
	require.Equal(t, job.MatchNestedSteps, d.s.Document().Match)
	for _, name := range []string{"Burn", "Tones"} {
		walk(d.win.Content(), func(o fyne.CanvasObject) {
			if n, ok := o.(*widgets.Named); ok {
				require.NotEqual(t, name, n.Name(), "tones say nothing of colours")
			}
		})
	}
}

func TestWhyPartsBurnIsTold(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Match")
	d.settle()
	why := d.drawers[pictureNth].(*pictureDrawer).match.why
	require.Regexp(t, `bright parts burn.*\.$`, why.Texts()[0])
	d.choose("Burn", "Dark parts")
	d.settle()
	require.Equal(t, []string{"Dark parts burn, as chosen."}, why.Texts())
}

func TestASuggestedCropIsPicked(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Framing")
	button := d.button("Suggest a crop")
	test.Tap(button)
	d.until("suggestions", func() bool { return !button.Disabled() })
	list := d.drawers[pictureNth].(*pictureDrawer).framing.list
	require.Positive(t, list.Len())
	before := d.s.Document()
	var rows []*widgets.PickRow
	walk(list, func(o fyne.CanvasObject) {
		if r, ok := o.(*widgets.PickRow); ok {
			rows = append(rows, r)
		}
	})
	other := rows[0]
	if other.Chosen() {
		other = rows[1]
	}
	test.Tap(other)
	d.loop.turn()
	require.NotEqual(t, before.Picture.Crop, d.s.Document().Picture.Crop)
	require.True(t, other.Chosen())
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document())

	d.tap("Turn right")
	require.Zero(t, list.Len(), "they were for the picture as it lay")
}

func TestALineDrawnAlongTheHorizonStraightens(t *testing.T) {
	d := newDesk(t)
	d.Show(session.PictureView)
	d.settle()
	d.openSection(pictureNth, "Straighten")
	d.tap("Along a line")
	require.Contains(t, d.says(), "Draw a line along the horizon")
	require.Equal(t, fyne.Focusable(d.easel), d.win.Canvas().Focused())
	before := d.s.Document()
	d.drag(layout.Point{X: -20, Y: 0}, layout.Point{X: 20, Y: -4}) // it falls to the right
	require.InDelta(t, -5.71, d.s.Document().Picture.StraightenDegrees, 0.011, "so the picture is turned back")
	require.Empty(t, d.says())
	d.tap("Along a line")
	d.drag(layout.Point{X: -20, Y: 0}, layout.Point{X: 20, Y: 4})
	require.InDelta(t, 0, d.s.Document().Picture.StraightenDegrees, 0.011, "a second line adds to the first")
	require.True(t, d.s.Undo())
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document())

	d.tap("Along a line")
	d.easel.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	require.Empty(t, d.says())
	require.Equal(t, widgets.Arrange, d.easel.Mode())
	d.tap("Along a line")
	d.Show(session.DotsView)
	require.Empty(t, d.says(), "looking at something else ends it too")
	require.Equal(t, widgets.Inspect, d.easel.Mode())
	require.Equal(t, before, d.s.Document())
}

func TestFourCornersStraighten(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Straighten")
	before := d.s.Document()
	picker := func() *widgets.CornerPicker {
		d.tap("Four corners...")
		d.until("a question", func() bool { return len(d.asking) == 1 })
		return object(d, "picker", func(*widgets.CornerPicker) bool { return true })
	}
	p := picker()
	require.Equal(t, fyne.Focusable(p), d.win.Canvas().Focused())
	require.Equal(t, layout.PicturePoint{X: 30, Y: 24}, p.Corners()[0], "a tenth inside")
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyTab})
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	d.tap("Straighten")
	require.Empty(t, d.asking)
	after := d.s.Document()
	require.Equal(t, layout.PicturePoint{X: 31, Y: 24}, after.Picture.Corners[0])
	w, h := d.s.PictureSize()
	require.InDelta(t, 240, w, 1)
	require.InDelta(t, 192, h, 1)
	require.True(t, d.field("Angle").Disabled(), "straightened by one of the two")
	require.True(t, d.button("Along a line").Disabled())

	require.Equal(t, *after.Picture.Corners, picker().Corners(), "it opens where it was left")
	d.tap("Leave it")
	require.Equal(t, after, d.s.Document())
	d.tap("As it was")
	require.Equal(t, before.Picture.Corners, d.s.Document().Picture.Corners)
	require.True(t, d.s.Undo())
	require.Equal(t, after, d.s.Document())
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document())
}

func TestCornersThatCannotBeAreSaidAndNotTaken(t *testing.T) {
	d := newDesk(t)
	d.openSection(pictureNth, "Straighten")
	d.tap("Four corners...")
	d.until("a question", func() bool { return len(d.asking) == 1 })
	p := object(d, "picker", func(*widgets.CornerPicker) bool { return true })
	p.SetCorners([4]layout.PicturePoint{{X: 270, Y: 24}, {X: 30, Y: 24}, {X: 270, Y: 216}, {X: 30, Y: 216}})
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyTab})
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	use := object(d, "use", func(b *widget.Button) bool { return b.Text == "Straighten" })
	require.True(t, use.Disabled())
	object(d, "remark", func(r *widgets.Remarks) bool {
		return len(r.Texts()) == 1 && strings.Contains(r.Texts()[0], "the sides between the corners cross")
	})
	d.tap("Leave it")
	require.False(t, d.s.Dirty())
}

func TestARemovedPictureLeavesTheLettering(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(pictureNth)
	before := d.s.Document()
	d.tap("Remove")
	require.False(t, d.s.Document().HasPicture())
	require.True(t, d.button("Remove").Disabled())
	require.Equal(t, "none", d.Drawers()[pictureNth].Summary())
	walk(d.Drawers()[pictureNth], func(o fyne.CanvasObject) {
		if s, ok := o.(*widgets.Drawer); ok {
			require.Equal(t, "Picture", s.Title(), "no section without a picture")
		}
	})
	d.settle()
	require.Empty(t, d.says())
	require.True(t, d.s.Undo())
	d.loop.turn()
	require.Equal(t, before, d.s.Document())
	d.openSection(pictureNth, "Tone")
	d.removePicture()
	d.removePicture()
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document(), "removing nothing is no step")
}
