package bench

import (
	"context"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// turned is the whole picture as it is turned, for its corners to be picked on.
type turned struct {
	view *image.RGBA
	w, h int
}

// askCorners asks on the whole picture for the corners of something that is really a
// rectangle.
func (b *Bench) askCorners(button *widget.Button) {
	wide := b.screenWide()
	inquire(b, button, func(ctx context.Context) (t turned, err error) {
		t.view, t.w, t.h, err = b.s.TurnedPicture(ctx, wide)
		return t, err
	}, func(t turned) { b.unasked(func() { b.showCorners(t) })() })
}

// inset is the share of the picture that corners nobody chose yet lie inside it.
const inset = 0.1

func insetCorners(w, h int) [4]layout.PicturePoint {
	x0, y0 := inset*float64(w), inset*float64(h)
	x1, y1 := float64(w)-x0, float64(h)-y0
	return [4]layout.PicturePoint{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func (b *Bench) showCorners(t turned) {
	first := insetCorners(t.w, t.h)
	if chosen := b.s.Document().Picture.Corners; chosen != nil {
		first = *chosen
	}
	b.pickCorners(t, cornersRequest{
		title: lang.X("corners.title", "Straighten by four corners"),
		hint:  lang.X("corners.hint", "Drag the corners onto those of something that is really a rectangle. Tab goes from corner to corner; arrow keys move one by a pixel, with Shift by ten."),
		use:   lang.X("corners.use", "Straighten"),
		first: first,
		check: func(corners [4]layout.PicturePoint) error { return b.s.Check(straightenBy(corners)) },
		then:  func(corners [4]layout.PicturePoint) { b.edit(stepStraighten(), "", straightenBy(corners)) },
	})
}

// cornersRequest is what four corners are picked for.
type cornersRequest struct {
	title, hint, use string
	first            [4]layout.PicturePoint
	names            [4]string // beside the corners; may be empty
	check            func([4]layout.PicturePoint) error
	then             func([4]layout.PicturePoint)
}

// pickCorners asks for four corners on a picture.
func (b *Bench) pickCorners(t turned, r cornersRequest) {
	picker := widgets.NewCornerPicker(t.view, t.w, t.h)
	picker.SetCorners(r.first)
	picker.SetNames(r.names)
	hint := widgets.NewRemarks(false)
	d := dialog.NewCustomWithoutButtons(r.title, container.NewBorder(nil, hint, nil, nil, picker), b.win)
	use := widget.NewButton(r.use, func() {
		d.Hide()
		r.then(picker.Corners())
	})
	use.Importance = widget.HighImportance
	leave := widget.NewButton(lang.X("corners.leave", "Leave it"), func() { d.Hide() })
	d.SetButtons([]fyne.CanvasObject{leave, use})
	tell := func(corners [4]layout.PicturePoint) {
		err := r.check(corners)
		enable(use, err == nil)
		if err != nil {
			hint.Set(warned(err.Error()))
			return
		}
		hint.Set(said(r.hint))
	}
	picker.OnChanged = tell
	tell(picker.Corners())
	size := b.win.Canvas().Size()
	d.Resize(fyne.NewSize(size.Width*0.8, size.Height*0.9))
	b.ask(d)
	b.win.Canvas().Focus(picker)
}

func straightenBy(corners [4]layout.PicturePoint) func(*job.Document) error {
	return func(d *job.Document) error {
		d.Picture.StraightenDegrees, d.Picture.Corners = 0, &corners
		return nil
	}
}

// someRectangle tells whether four corners can be those of something that is really a
// rectangle, seen from any side.
func someRectangle(corners [4]layout.PicturePoint) error {
	_, err := layout.FromCorners(corners, 1, 1)
	return err
}
