package bench

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// letteringDrawer holds the lines of lettering. One of them is picked, and what
// stands below the list is for that one.
type letteringDrawer struct {
	*form
	drawer   *widgets.Drawer
	list     *widgets.PickList
	picked   int
	cautions *widgets.Remarks
	placed   []lettering.Placed // as far as the worker has placed them
}

func newLetteringDrawer(b *Bench) *letteringDrawer {
	f := b.newForm()
	l := &letteringDrawer{form: f, list: widgets.NewPickList()}
	l.list.OnPicked = l.pick
	f.box.Add(l.list)
	l.buttons()
	line := f.part(hasLines)
	l.textFields(line)
	l.placeFields(line)
	l.burnFields(line)
	l.cautions = f.remarks()
	l.drawer = widgets.NewDrawer(lang.X("drawer.lettering", "Lettering"), f.box)
	l.drawer.OnResized = func() { l.showOnEasel(b.s.Document()) }
	return l
}

func hasLines(d job.Document) bool { return len(d.Lettering) > 0 }

func (l *letteringDrawer) buttons() {
	f := l.form
	add := widget.NewButtonWithIcon(lang.X("letters.add", "Add a line"), theme.ContentAddIcon(), l.add)
	remove := widget.NewButtonWithIcon(lang.X("letters.remove", "Remove"), theme.DeleteIcon(), l.remove)
	up := widget.NewButtonWithIcon(lang.X("letters.up", "Up"), theme.MoveUpIcon(), func() { l.move(-1) })
	down := widget.NewButtonWithIcon(lang.X("letters.down", "Down"), theme.MoveDownIcon(), func() { l.move(1) })
	f.buttons(add, remove)
	f.buttons(up, down)
	f.enabledWhen(add, func(d job.Document) bool { return len(d.Lettering) < lettering.MaxLines })
	f.enabledWhen(remove, hasLines)
	f.enabledWhen(up, func(d job.Document) bool { return l.pickedIn(d) > 0 })
	f.enabledWhen(down, func(d job.Document) bool { return l.pickedIn(d) < len(d.Lettering)-1 })
}

// pickedIn is the place of the picked line; -1 where there is none.
func (l *letteringDrawer) pickedIn(d job.Document) int { return min(l.picked, len(d.Lettering)-1) }

// lineIn is the picked line; a document without lines has the one that would be new.
func (l *letteringDrawer) lineIn(d job.Document) lettering.Line {
	if i := l.pickedIn(d); i >= 0 {
		return d.Lettering[i]
	}
	return newLine(d)
}

// changed is a change of the picked line.
func (l *letteringDrawer) changed(d *job.Document, change func(*lettering.Line)) {
	if i := l.pickedIn(*d); i >= 0 {
		change(&d.Lettering[i])
	}
}

// pick turns the fields over to another line.
func (l *letteringDrawer) pick(nth int) {
	l.picked = nth
	l.show(l.bench.s.Document())
	l.bench.fitColumn()
}

func stepLettering() string { return lang.X("step.lettering", "lettering") }

// newLine is centred in the lower part of the picture area.
func newLine(d job.Document) lettering.Line {
	const usual, share, foot = layout.MM(10), 8, 10
	line := lettering.Line{
		Text: lang.X("letters.text", "Text"), Font: assets.DefaultFont, CapHeight: usual,
		Align: lettering.Centre, Burn: true, Margin: 1,
	}
	area, err := d.Panel.PictureArea(d.Border)
	if err != nil {
		return line
	}
	line.CapHeight = max(lettering.MinCapHeight, min(usual, area.Size.H/share))
	line.At = layout.Point{X: area.Centre.X, Y: area.Centre.Y - area.Size.H/2 + area.Size.H/foot}
	return line
}

func (l *letteringDrawer) add() {
	if l.bench.edit(stepLettering(), "", func(d *job.Document) error {
		d.Lettering = append(d.Lettering, newLine(*d))
		return nil
	}) {
		l.pick(len(l.bench.s.Document().Lettering) - 1)
	}
}

func (l *letteringDrawer) remove() {
	l.bench.edit(stepLettering(), "", func(d *job.Document) error {
		if i := l.pickedIn(*d); i >= 0 {
			d.Lettering = slices.Delete(d.Lettering, i, i+1)
		}
		if len(d.Lettering) == 0 {
			d.Lettering = nil
		}
		return nil
	})
}

// move takes the picked line earlier or later in the list: later lines lie over
// earlier ones.
func (l *letteringDrawer) move(by int) {
	from := l.pickedIn(l.bench.s.Document())
	to := from + by
	if l.bench.edit(stepLettering(), "", func(d *job.Document) error {
		if from < 0 || to < 0 || to >= len(d.Lettering) {
			return nil
		}
		d.Lettering[from], d.Lettering[to] = d.Lettering[to], d.Lettering[from]
		return nil
	}) {
		l.pick(to)
	}
}

func (l *letteringDrawer) widget() *widgets.Drawer { return l.drawer }

func (l *letteringDrawer) refresh(d job.Document, _ job.Plan) {
	l.show(d)
	l.drawer.SetSummary(linesText(d))
	l.showOnEasel(d)
}

func linesText(d job.Document) string {
	switch n := len(d.Lettering); n {
	case 0:
		return lang.X("letters.none", "none")
	case 1:
		return d.Lettering[0].Text
	default:
		return lang.X("letters.lines", "{{.N}} lines", map[string]any{"N": n})
	}
}

func (l *letteringDrawer) show(d job.Document) {
	picks := make([]widgets.Pick, len(d.Lettering))
	for i, line := range d.Lettering {
		picks[i] = widgets.Pick{Label: line.Text, More: d.UnitOf().Format(line.CapHeight)}
	}
	l.list.Set(picks, l.pickedIn(d))
	l.form.show(d)
}

// found shows what will not come out as meant, and where the lines lie.
func (l *letteringDrawer) found(f session.Found) {
	var remarks []widgets.Remark
	for _, c := range f.LetterCautions {
		remarks = append(remarks, warned(c))
	}
	l.cautions.Set(remarks...)
	if f.Generation == l.bench.s.Generation() {
		l.placed = f.Letters
		l.showOnEasel(l.bench.s.Document())
	}
}

// showOnEasel offers the lines to the hand while the drawer is open.
func (l *letteringDrawer) showOnEasel(d job.Document) {
	if !l.drawer.IsOpen() || len(l.placed) != len(d.Lettering) {
		l.bench.easel.SetLines(nil, -1)
		return
	}
	frames := make([][4]layout.Point, len(l.placed))
	for i, p := range l.placed {
		frames[i] = p.Frame
		// The worker may be behind: where a line lies is known already.
		dx, dy := d.Lettering[i].At.X-p.Line.At.X, d.Lettering[i].At.Y-p.Line.At.Y
		for k := range frames[i] {
			frames[i][k].X += dx
			frames[i][k].Y += dy
		}
	}
	l.bench.easel.SetLines(frames, l.pickedIn(d))
}

// lineMoved moves a line of lettering on the panel.
func (l *letteringDrawer) lineMoved(nth int, dx, dy layout.MM) {
	l.bench.edit(stepLettering(), lineDrag, func(d *job.Document) error {
		if nth < 0 || nth >= len(d.Lettering) {
			return fmt.Errorf("line %d is gone: pick another", nth+1)
		}
		at := &d.Lettering[nth].At
		at.X, at.Y = at.X+dx, at.Y+dy
		return nil
	})
}
