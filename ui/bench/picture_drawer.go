package bench

import (
	"fmt"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// pictureDrawer holds the picture: which, how it is framed and straightened, toned,
// faded and matched. Each of these is a section of its own.
type pictureDrawer struct {
	*form
	drawer  *widgets.Drawer
	name    *widgets.Remarks
	framing *framing
	tone    *toneSection
	match   *matchSection
}

func newPictureDrawer(b *Bench) *pictureDrawer {
	f := b.newForm()
	p := &pictureDrawer{form: f}
	p.name = f.remarks()
	remove := widget.NewButtonWithIcon(lang.X("picture.remove", "Remove"), theme.DeleteIcon(), b.removePicture)
	f.buttons(widget.NewButtonWithIcon(lang.X("picture.open", "Open..."), theme.FolderOpenIcon(), b.openPicture), remove)
	f.enabledWhen(remove, job.Document.HasPicture)
	there := f.part(job.Document.HasPicture)
	p.framing = newFraming(there)
	newStraightening(there)
	p.tone = newToneSection(there)
	newDetailSection(there)
	newGreySection(there)
	newFadeSection(there)
	p.match = newMatchSection(there)
	p.drawer = widgets.NewDrawer(lang.X("drawer.picture", "Picture"), f.box)
	return p
}

func (p *pictureDrawer) widget() *widgets.Drawer { return p.drawer }

func (p *pictureDrawer) refresh(d job.Document, _ job.Plan) {
	p.show(d)
	if !d.HasPicture() {
		p.name.Set(said(lang.X("picture.none", "There is no picture: lettering stands alone.")))
		p.drawer.SetSummary(lang.X("picture.nosummary", "none"))
		return
	}
	w, h := p.bench.s.PictureSize()
	remarks := []widgets.Remark{said(fmt.Sprintf("%s, %d x %d px", d.Picture.Name, w, h))}
	if note := p.bench.s.PictureNote(); note != "" {
		remarks = append(remarks, warned(widgets.Sentence(note)))
	}
	p.name.Set(remarks...)
	p.drawer.SetSummary(d.Picture.Name)
}

// found shows what the worker learned about the picture.
func (p *pictureDrawer) found(f session.Found) {
	p.tone.found(f)
	p.match.found(f)
}

// removePicture leaves the lettering alone on the panel.
func (b *Bench) removePicture() {
	if b.s.Document().HasPicture() {
		b.s.RemovePicture()
	}
}

// hint is a line that tells what the hand can do.
func (f *form) hint(text string) {
	r := widgets.NewRemarks(true)
	r.Set(said(text))
	f.box.Add(r)
}
