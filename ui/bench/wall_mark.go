package bench

import (
	"errors"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/scene"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// markQuestion asks on the photograph of a wall for something whose size is known, and
// for the place of the panel, which it draws at its true size.
type markQuestion struct {
	bench  *Bench
	size   image.Point // of the photograph
	dialog *dialog.CustomDialog
	picker *widgets.PointPicker
	by     *widget.RadioGroup
	known  *widget.Entry
	named  *widgets.Named
	hint   *widgets.Remarks
	use    *widget.Button
}

// askMark asks how large a photographed wall is, beginning with what is known of it.
func (b *Bench) askMark(t turned, first scene.Mark, then func(scene.Mark)) {
	q := &markQuestion{bench: b, size: image.Pt(t.w, t.h), known: widget.NewEntry(), hint: widgets.NewRemarks(false)}
	q.picker = widgets.NewPointPicker(t.view, t.w, t.h, q.tell)
	q.by = widget.NewRadioGroup([]string{lang.X("mark.length", "A length"), lang.X("mark.rectangle", "A rectangle")}, nil)
	q.by.Horizontal, q.by.Required = true, true
	q.named = widgets.NewNamed(lang.X("mark.long", "It measures"), q.known)
	form := container.NewGridWithColumns(2, widgets.NewNamed(lang.X("mark.by", "Marked is"), q.by), q.named)
	q.dialog = dialog.NewCustomWithoutButtons(lang.X("mark.title", "How large is this wall?"),
		container.NewBorder(nil, container.NewVBox(form, q.hint), nil, nil, q.picker), b.win)
	q.use = widget.NewButton(lang.X("mark.use", "Hang it here"), func() {
		if m, _, err := q.mark(); err == nil {
			q.dialog.Hide()
			then(m)
		}
	})
	q.use.Importance = widget.HighImportance
	q.dialog.SetButtons([]fyne.CanvasObject{widget.NewButton(lang.X("mark.leave", "Leave it"), q.dialog.Hide), q.use})
	q.begin(first)
	q.known.OnChanged = func(string) { q.tell() }
	q.by.OnChanged = func(string) { q.lay(scene.Mark{Centre: q.middle()}) }
	size := b.win.Canvas().Size()
	q.dialog.Resize(fyne.NewSize(size.Width*0.8, size.Height*0.9))
	b.ask(q.dialog)
	b.win.Canvas().Focus(q.known)
}

func (q *markQuestion) begin(first scene.Mark) {
	u := q.bench.s.Document().UnitOf()
	q.by.SetSelected(q.by.Options[indexOf(first.Corners != nil)])
	switch {
	case first.Corners != nil:
		q.known.SetText(u.FormatSize(first.CornersMM))
	case first.LengthMM > 0:
		q.known.SetText(u.Format(first.LengthMM))
	default:
		first.Centre = layout.PicturePoint{X: float64(q.size.X) / 2, Y: float64(q.size.Y) * 0.4}
	}
	q.lay(first)
}

func (q *markQuestion) rectangle() bool { return q.by.Selected == q.by.Options[1] }

// middle is where the panel hangs: the last point.
func (q *markQuestion) middle() layout.PicturePoint {
	p := q.picker.Points()
	return p[len(p)-1]
}

// lay lays out the points to drag: those of a mark, or others in sight where it has none.
func (q *markQuestion) lay(m scene.Mark) {
	w, h := float64(q.size.X), float64(q.size.Y)
	panel := lang.X("mark.panel", "Panel")
	if q.rectangle() {
		q.known.SetPlaceHolder(lang.X("mark.sizehint", "such as 900 x 2000 mm"))
		corners := insetCorners(q.size.X, q.size.Y)
		if m.Corners != nil {
			corners = *m.Corners
		}
		names := cornerNames()
		q.picker.SetPoints(append(corners[:], m.Centre), append(names[:], panel), [][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 0}})
	} else {
		q.known.SetPlaceHolder(lang.X("mark.lengthhint", "such as 900 mm"))
		if m.A == m.B {
			m.A, m.B = layout.PicturePoint{X: w * 0.3, Y: h * 0.8}, layout.PicturePoint{X: w * 0.7, Y: h * 0.8}
		}
		q.picker.SetPoints([]layout.PicturePoint{m.A, m.B, m.Centre}, []string{lang.X("mark.end", "End"), lang.X("mark.otherend", "Other end"), panel}, [][2]int{{0, 1}})
	}
	q.tell()
}

// errNoMeasure is not told: the hint says what to do.
var errNoMeasure = errors.New("nothing is typed yet")

// mark is what is marked and typed, and where the panel comes to lie by it.
func (q *markQuestion) mark() (scene.Mark, [4]layout.PicturePoint, error) {
	d := q.bench.s.Document()
	p, m := q.picker.Points(), scene.Mark{Centre: q.middle()}
	var outline [4]layout.PicturePoint
	if q.known.Text == "" {
		return m, outline, errNoMeasure
	}
	var err error
	if q.rectangle() {
		corners := [4]layout.PicturePoint(p[:4])
		m.Corners = &corners
		m.CornersMM, err = layout.ParseSize(q.known.Text, d.UnitOf())
	} else {
		m.A, m.B = p[0], p[1]
		m.LengthMM, err = layout.ParseLength(q.known.Text, d.UnitOf())
	}
	if err == nil {
		outline, err = m.Outline(q.size, d.Panel.Size)
	}
	return m, outline, err
}

// tell draws the panel where it hangs, or says what is missing.
func (q *markQuestion) tell() {
	_, outline, err := q.mark()
	enable(q.use, err == nil)
	switch {
	case errors.Is(err, errNoMeasure):
		q.picker.SetShape(nil)
		q.hint.Set(said(q.explain()))
	case err != nil:
		q.picker.SetShape(nil)
		q.hint.Set(warned(err.Error()))
	default:
		q.picker.SetShape(outline[:])
		q.hint.Set(said(lang.X("mark.lies", "The outline is the panel at its true size. Drag its middle to where it hangs.")))
	}
}

func (q *markQuestion) explain() string {
	if q.rectangle() {
		return lang.X("mark.rectanglehow", "For a photograph taken aslant: drag the corners onto those of something upright and square-cornered on the wall, such as a door, and type its width and height.")
	}
	return lang.X("mark.lengthhow", "For a photograph taken straight on: drag the two ends onto those of something on the wall, such as a door's edge or a sheet of paper, and type how long it is.")
}
