package bench

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/scene"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// wallPart sets the wall on which the panel is shown, and writes that view.
type wallPart struct {
	bench   *Bench
	sheet   *wallSheet
	section *widgets.Drawer
	box     *fyne.Container

	room   *widgets.Named
	paint  *widgets.Field
	pick   *widget.Button
	photo  *widget.Button
	again  *widget.Button // marks the photograph once more
	remove *widget.Button
	water  *widgets.Field
	sets   *widgets.PickList // the ready stacks, any of which can be shown
	look   *widget.Button
	save   *widget.Button
	errand *errand
	told   *widgets.Remarks
}

func newWallPart(b *Bench) *wallPart {
	p := &wallPart{bench: b, sheet: b.wall, box: container.NewVBox(), told: widgets.NewRemarks(false)}
	p.section = b.newSection(lang.X("wall.title", "On a wall"), p.box)
	p.errand = b.newErrand(p.refresh)
	p.addRoom()
	p.photo = widget.NewButtonWithIcon(lang.X("wall.photo", "Photograph of a wall..."), theme.MediaPhotoIcon(), p.ask)
	p.again = widget.NewButton(lang.X("wall.again", "Mark it again..."), func() { p.mark(p.sheet.wall) })
	p.remove = widget.NewButton(lang.X("wall.remove", "Back to a room"), func() { p.change(func(w *session.Wall) { w.Photo = nil }) })
	p.water = widgets.NewField(lang.X("wall.watermark", "Watermark"), "")
	p.water.OnCommitted = func(text string) { p.change(func(w *session.Wall) { w.Watermark = strings.TrimSpace(text) }) }
	p.water.Validate = checkWatermark
	p.water.OnResized = b.fitColumn
	p.addSets()
	p.look = widget.NewButton(lang.X("wall.look", "Show it"), b.ShowWall)
	p.save = widget.NewButtonWithIcon(lang.X("wall.save", "Save the view..."), theme.DocumentSaveIcon(), p.askFile)
	for _, o := range []fyne.CanvasObject{p.photo, p.again, p.remove, p.told, p.water} {
		p.box.Add(o)
	}
	others := widgets.NewRemarks(false)
	others.Set(said(lang.X("wall.sets", "In other paints, side by side; a click takes one in or out:")))
	p.box.Add(others)
	p.box.Add(p.sets)
	p.box.Add(container.NewGridWithColumns(2, p.look, p.save))
	p.box.Add(p.errand.box)
	p.refresh()
	return p
}

// addRoom adds what a drawn room takes.
func (p *wallPart) addRoom() {
	kinds := scene.Kinds()
	labels := make([]string, len(kinds))
	for i, k := range kinds {
		labels[i] = capital(roomName(k))
	}
	list := widget.NewSelect(labels, nil)
	list.SetSelectedIndex(max(0, slices.Index(kinds, p.sheet.wall.Room)))
	list.OnChanged = func(string) { p.change(func(w *session.Wall) { w.Room = kinds[max(0, list.SelectedIndex())] }) }
	p.room = widgets.NewNamed(lang.X("wall.room", "Room"), list)
	p.paint = widgets.NewField(lang.X("wall.paint", "Wall paint"), "")
	p.paint.Validate = func(text string) error { _, err := colour.ParseHex(strings.TrimSpace(text)); return err }
	p.paint.OnCommitted = func(text string) {
		if c, err := colour.ParseHex(strings.TrimSpace(text)); err == nil {
			p.change(func(w *session.Wall) { w.Paint = c })
		}
	}
	p.paint.OnResized = p.bench.fitColumn
	p.pick = widget.NewButton(lang.X("wall.pick", "Pick the wall paint..."), p.askPaint)
	for _, o := range []fyne.CanvasObject{p.room, p.paint, p.pick} {
		p.box.Add(o)
	}
}

// addSets adds the stacks in which the picture can be shown side by side.
func (p *wallPart) addSets() {
	p.sets = widgets.NewPickList()
	p.sets.OnPicked = func(nth int) {
		name := p.bench.shelf.stacks[nth].name
		if at := slices.Index(p.sheet.sets, name); at >= 0 {
			p.sheet.sets = slices.Delete(slices.Clone(p.sheet.sets), at, at+1)
		} else if len(p.sheet.sets) < job.MaxSets {
			p.sheet.sets = append(slices.Clone(p.sheet.sets), name)
		}
		p.showSets()
		p.sheet.changed()
	}
	p.showSets()
}

// showSets marks the stacks that are shown, by their place from the left.
func (p *wallPart) showSets() {
	var picks []widgets.Pick
	for _, o := range optionsOf(p.bench.shelf.stacks) {
		pick := widgets.Pick{Label: o.label}
		if at := slices.Index(p.sheet.sets, o.value); at >= 0 {
			pick.More = lang.X("wall.nth", "{{.N}}.", map[string]any{"N": at + 1})
		}
		picks = append(picks, pick)
	}
	p.sets.Set(picks, -1)
}

func checkWatermark(text string) error { return job.CheckWatermark(strings.TrimSpace(text)) }

func (p *wallPart) change(how func(*session.Wall)) {
	how(&p.sheet.wall)
	p.refresh()
	p.sheet.changed()
}

// refresh shows the wall that is set.
func (p *wallPart) refresh() {
	w := p.sheet.wall
	own := w.Photo != nil
	for _, o := range []fyne.CanvasObject{p.room, p.paint, p.pick} {
		setVisible(o, !own)
	}
	setVisible(p.again, own)
	setVisible(p.remove, own)
	p.paint.SetText(w.Paint.String())
	p.section.SetSummary(p.sheet.where())
	p.told.Set()
	if own {
		p.told.Set(said(markedText(w, p.bench.s.Document().UnitOf())))
	}
	enable(p.photo, !p.errand.busy())
	enable(p.save, !p.errand.busy())
	p.box.Refresh()
	p.bench.fitColumn()
}

// markedText says how the photograph's scale is known.
func markedText(w session.Wall, u layout.Unit) string {
	blanks := map[string]any{"Photo": w.Photo.Name, "Length": u.Format(w.Mark.LengthMM), "Size": u.FormatSize(w.Mark.CornersMM)}
	if w.Mark.Corners != nil {
		return lang.X("wall.byrectangle", "{{.Photo}}, measured by a rectangle of {{.Size}} on it.", blanks)
	}
	return lang.X("wall.bylength", "{{.Photo}}, measured by a length of {{.Length}} on it.", blanks)
}

func (p *wallPart) askPaint() {
	p.bench.ask(widgets.NewColourPicker(lang.X("wall.paint", "Wall paint"), lang.X("wall.paintis", "The colour of the wall"), p.sheet.wall.Paint,
		func(c colour.Stored) { p.change(func(w *session.Wall) { w.Paint = c }) }, p.bench.win))
}

// ask asks for a photograph of the client's own wall.
func (p *wallPart) ask() {
	if !p.errand.busy() {
		p.bench.askPath(lang.X("wall.open", "Open a photograph of the wall"), pictureEndings, func(path string) { p.openPhoto(path) })
	}
}

// MarkWall opens a photograph of a wall and asks how large that is. The channel is closed
// once it is open.
func (b *Bench) MarkWall(path string) (ended <-chan struct{}) {
	return b.handOff.parts.wall.openPhoto(path)
}

// openPhoto opens a photograph of a wall and then asks how large that is. The channel is
// closed once it is open.
func (p *wallPart) openPhoto(path string) (ended <-chan struct{}) {
	b := p.bench
	b.folder = filepath.Dir(path)
	return send(p.errand, lang.X("wall.opening", "Opening"), func(ctx context.Context, _ func(float64)) (*session.Photo, error) {
		return session.OpenPhoto(ctx, path)
	}, func(photo *session.Photo) {
		wall := p.sheet.wall
		wall.Photo, wall.Mark = photo, scene.Mark{}
		b.unasked(func() { p.mark(wall) })()
	}, b.complain)
}

// mark asks how large the wall in a photograph is and where the panel hangs.
func (p *wallPart) mark(wall session.Wall) (ended <-chan struct{}) {
	b, wide := p.bench, p.bench.screenWide()
	return send(p.errand, lang.X("wall.opening", "Opening"), func(ctx context.Context, _ func(float64)) (t turned, err error) {
		t.view, t.w, t.h, err = wall.Photo.View(ctx, wide)
		return t, err
	}, func(t turned) {
		b.unasked(func() {
			b.askMark(t, wall.Mark, func(m scene.Mark) {
				wall.Mark = m
				p.change(func(w *session.Wall) { w.Photo, w.Mark = wall.Photo, m })
				b.ShowWall()
			})
		})()
	}, b.complain)
}

// askFile asks where to write the view.
func (p *wallPart) askFile() {
	name := strings.TrimSuffix(p.bench.s.Document().FileName(), job.Extension)
	newFileQuestion(p.bench, saveRequest{
		title:  lang.X("wall.saveas", "Save the view of the wall"),
		name:   lang.X("wall.file", "{{.Job}} wall", map[string]any{"Job": name}),
		ending: ".png", write: func(path string) { p.write(path) },
	}).show()
}

// write writes the view. The channel is closed once that has ended.
func (p *wallPart) write(path string) (ended <-chan struct{}) {
	b := p.bench
	stacks, err := p.sheet.stacks()
	if err != nil {
		b.complain(err)
		return nil
	}
	wall := p.sheet.wall
	b.folder = filepath.Dir(path)
	return send(p.errand, lang.X("wall.writing", "Writing"), func(ctx context.Context, progress func(float64)) (string, error) {
		return path, b.s.WriteWall(ctx, path, wall, stacks, progress)
	}, func(path string) {
		b.notice.Inform(lang.X("wall.saved", "Saved {{.File}}.", map[string]any{"File": path}),
			lang.X("wall.promise", "A view on a screen is no promise of a paint: let the client see a swatch."))
	}, b.complain)
}
