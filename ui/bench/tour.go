package bench

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	box "fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// tourPreference keeps that the tour was seen, or skipped.
const tourPreference = "tour.seen"

// tourWide is the width of a note.
const tourWide = 330

// note is one stop of the tour: a few words beside a part of the window.
type note struct {
	title, text string
	// at is the upper left corner of the note, from what it speaks of.
	at func() fyne.Position
}

// firstTour shows the tour to whoever has never seen it.
func (b *Bench) firstTour() {
	if !fyne.CurrentApp().Preferences().Bool(tourPreference) {
		b.Tour()
	}
}

// Tour shows five notes, one after another. A click beside one, or Skip, ends it.
func (b *Bench) Tour() {
	fyne.CurrentApp().Preferences().SetBool(tourPreference, true)
	b.Show(b.view)
	b.showNote(b.tourNotes(), 0)
}

func (b *Bench) showNote(notes []note, nth int) {
	if nth >= len(notes) {
		return
	}
	n := notes[nth]
	var pop *widget.PopUp
	text := widget.NewLabel(n.text)
	text.Wrapping = fyne.TextWrapWord
	skip := widget.NewButton(lang.X("tour.skip", "Skip"), func() { pop.Hide() })
	skip.Importance = widget.LowImportance
	label := lang.X("tour.next", "Next")
	if nth == len(notes)-1 {
		label = lang.X("tour.end", "Begin")
		skip.Hide()
	}
	next := widget.NewButton(label, func() {
		pop.Hide()
		b.showNote(notes, nth+1)
	})
	next.Importance = widget.HighImportance
	count := widget.NewLabel(fmt.Sprintf("%d / %d", nth+1, len(notes)))
	content := container.NewVBox(
		widget.NewLabelWithStyle(n.title, fyne.TextAlignLeading, fyne.TextStyle{Bold: true}),
		text,
		container.NewHBox(count, box.NewSpacer(), skip, next),
	)
	pop = widget.NewPopUp(container.NewPadded(content), b.win.Canvas())
	pop.Resize(fyne.NewSize(tourWide, 0))
	size := fyne.NewSize(tourWide, pop.MinSize().Height) // the words wrap by now
	pop.Resize(size)
	pop.ShowAtPosition(b.inWindow(n.at(), size))
	b.win.Canvas().Focus(next)
}

// inWindow moves a box's upper left corner so that the box lies in the window.
func (b *Bench) inWindow(at fyne.Position, size fyne.Size) fyne.Position {
	const margin = 12
	room := b.win.Canvas().Size()
	return fyne.NewPos(
		max(margin, min(at.X, room.Width-size.Width-margin)),
		max(margin, min(at.Y, room.Height-size.Height-margin)))
}

func (b *Bench) tourNotes() []note {
	beside := func(o fyne.CanvasObject, dx, dy float32) func() fyne.Position {
		return func() fyne.Position {
			return fyne.CurrentApp().Driver().AbsolutePositionForObject(o).AddXY(dx, dy)
		}
	}
	return []note{
		{lang.X("tour.drawers", "The job, from top to bottom"),
			lang.X("tour.drawers.text", "The drawers follow the work: the panel, its coats, the picture, the burn, the hand-off. Drop a picture of your own on the window to begin."),
			beside(b.column, drawerWidth+16, 16)},
		{lang.X("tour.easel", "The panel to scale"),
			lang.X("tour.easel.text", "Drag the border's edges and the picture itself. The wheel zooms, down to single dots. What you see is the predicted look of the burned panel."),
			beside(b.easel, 70, 60)},
		{lang.X("tour.ribbon", "What each dose brings out"),
			lang.X("tour.ribbon.text", "From no light to full: where each coat gives way, and how much of the picture falls where. Drag the marker to set the power."),
			beside(b.ribbon.object, 200, -170)},
		{lang.X("tour.core", "A cut through the coats"),
			lang.X("tour.core.text", "Point at the picture to see how deep the burn goes there. A click pins a place to compare with another."),
			beside(b.cores.object, -tourWide-16, 60)},
		{lang.X("tour.handoff", "Compare, then hand off"),
			lang.X("tour.handoff.text", "Compare with another power, or with paint a little thicker, before a weekend's work depends on it. Hand off writes what the machine needs. Press ? for the keys."),
			beside(b.toolbar.handOff, -tourWide+80, 44)},
	}
}
