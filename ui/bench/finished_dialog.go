package bench

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/compare"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// comparisonQuestion shows a finished panel beside its proof, and asks what to keep of
// what it tells.
type comparisonQuestion struct {
	bench  *Bench
	c      *session.Comparison
	dialog *dialog.CustomDialog
	remark *widget.Entry
	update *widget.Button
	keep   *widget.Button
}

func (b *Bench) showComparison(c *session.Comparison) {
	q := &comparisonQuestion{bench: b, c: c, remark: widget.NewEntry()}
	q.remark.SetPlaceHolder(lang.X("finished.remarkhint", "such as where it hangs, or what the paint was like"))
	pictures := container.NewGridWithColumns(3,
		captioned(lang.X("finished.photo", "Photograph, its light evened out"), c.Result.Photo),
		captioned(lang.X("finished.proof", "Proof, as set"), c.Proof),
		captioned(lang.X("finished.map", "Difference: black is CIEDE2000 {{.Full}} or more", map[string]any{"Full": compare.MapFull}), c.Map))
	words := widgets.NewRemarks(false)
	words.Set(q.words()...)
	content := container.NewBorder(nil, container.NewVBox(words, widgets.NewNamed(lang.X("finished.remark", "Remark"), q.remark)), nil, nil, pictures)
	q.dialog = dialog.NewCustomWithoutButtons(lang.X("finished.result", "The finished panel and its proof"), content, b.win)
	shut := widget.NewButton(lang.X("finished.close", "Close"), q.dialog.Hide)
	q.update = widget.NewButton(lang.X("finished.update", "Update the curve"), q.updateCurve)
	q.keep = widget.NewButton(lang.X("finished.keep", "Keep the record"), q.keepRecord)
	q.keep.Importance = widget.HighImportance
	q.dialog.SetButtons([]fyne.CanvasObject{shut, q.update, q.keep})
	enable(q.update, c.CanUpdate(b.s.Document()))
	size := b.win.Canvas().Size()
	q.dialog.Resize(fyne.NewSize(size.Width*0.85, size.Height*0.92))
	b.ask(q.dialog)
}

// captioned is a picture as large as fits, with what it shows above.
func captioned(caption string, img *image.RGBA) fyne.CanvasObject {
	picture := canvas.NewImageFromImage(img)
	picture.FillMode, picture.ScaleMode = canvas.ImageFillContain, canvas.ImageScaleFastest
	picture.SetMinSize(fyne.NewSize(120, 160))
	label := widgets.NewRemarks(true)
	label.Set(said(caption))
	return container.NewBorder(label, nil, nil, nil, picture)
}

// words are what the comparison says: first how far it is off, then which dose it was.
func (q *comparisonQuestion) words() []widgets.Remark {
	c := q.c
	out := []widgets.Remark{said(lang.X("finished.dose", "The panel looks like {{.Factor}}.", map[string]any{"Factor": factorText(c.Dose.Factor, c.Dose.Range95)}))}
	for _, w := range c.Words {
		out = append(out, widgets.Remark{Kind: widgets.Listed, Text: widgets.Sentence(w)})
	}
	return out
}

// updateCurve lets the curve learn from the panel, once.
func (q *comparisonQuestion) updateCurve() {
	if err := q.bench.s.UpdateCurve(lang.X("step.learn", "curve from a finished panel"), q.c); err != nil {
		q.bench.complain(err)
		return
	}
	q.update.Disable()
	q.update.SetText(lang.X("finished.updated", "Curve updated"))
}

// keepRecord keeps the comparison in the job, once.
func (q *comparisonQuestion) keepRecord() {
	if err := q.bench.s.KeepRecord(lang.X("step.record", "record of a finished panel"), q.c, q.remark.Text); err != nil {
		q.bench.complain(err)
		return
	}
	q.keep.Disable()
	q.remark.Disable()
	q.keep.SetText(lang.X("finished.recorded", "Record kept"))
}
