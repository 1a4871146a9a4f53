package bench

import (
	"math"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// newStraightening adds what brings a picture into line: an angle, typed or taken
// from a line drawn on the easel, or four corners.
func newStraightening(in *form) {
	f, _ := in.section(lang.X("picture.straight", "Straighten"), straightText)
	b := f.bench
	angle := f.number(lang.X("picture.angle", "Angle"), "°", stepStraighten(),
		func(d job.Document) float64 { return d.Picture.StraightenDegrees },
		func(d *job.Document, v float64) { d.Picture.StraightenDegrees = v })
	line := widget.NewButton(lang.X("picture.along", "Along a line"), b.drawLevel)
	corners := widget.NewButton(lang.X("picture.corners", "Four corners..."), nil)
	corners.OnTapped = func() { b.askCorners(corners) }
	f.buttons(line, corners)
	again := widget.NewButtonWithIcon(lang.X("picture.straightagain", "As it was"), theme.ContentClearIcon(), b.straightAgain)
	f.box.Add(again)
	f.hint(lang.X("picture.straighthint", "The angle turns the picture clockwise. Corners are those of something that is really a rectangle, such as a painting photographed aslant."))
	byAngle := func(d job.Document) bool { return d.Picture.Corners == nil }
	f.enabledWhen(angle, byAngle)
	f.enabledWhen(line, byAngle)
	f.enabledWhen(again, func(d job.Document) bool { return d.Picture.Corners != nil || d.Picture.StraightenDegrees != 0 })
}

func stepStraighten() string { return lang.X("step.straighten", "straighten") }

func straightText(d job.Document) string {
	switch {
	case d.Picture.Corners != nil:
		return lang.X("straight.corners", "by four corners")
	case d.Picture.StraightenDegrees != 0:
		return minus(plainNumber(d.Picture.StraightenDegrees)) + "°"
	}
	return lang.X("straight.none", "as it is")
}

// drawLevel has a line drawn on the easel along something level or upright.
func (b *Bench) drawLevel() {
	b.easel.SetMode(widgets.Level)
	b.notice.Inform(
		lang.X("level.draw", "Draw a line along the horizon, or along anything that shall lie level or upright."),
		lang.X("level.escape", "Escape leaves the picture as it is."))
	b.win.Canvas().Focus(b.easel)
}

// levelDrawn straightens by a line on the panel.
func (b *Bench) levelDrawn(from, to layout.Point) {
	b.endLevel()
	b.edit(stepStraighten(), "", func(d *job.Document) error {
		more, err := layout.HorizonAngle(
			layout.PicturePoint{X: float64(from.X), Y: -float64(from.Y)},
			layout.PicturePoint{X: float64(to.X), Y: -float64(to.Y)})
		if err != nil {
			return err
		}
		const finest = 0.01 // degrees
		d.Picture.StraightenDegrees = math.Round((d.Picture.StraightenDegrees+more)/finest) * finest
		return nil
	})
}

// endLevel gives the easel back to what it was for.
func (b *Bench) endLevel() {
	b.easel.SetMode(easelMode(b.view))
	b.notice.Hide()
}

// straightAgain takes all straightening back.
func (b *Bench) straightAgain() {
	b.edit(stepStraighten(), "", func(d *job.Document) error {
		d.Picture.StraightenDegrees, d.Picture.Corners = 0, nil
		return nil
	})
}
