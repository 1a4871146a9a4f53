package main

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/bench"
	"undercoat/ui/widgets"
)

// compared compares the job with the nth thing on offer.
func compared(nth int) func(d *desk) func() {
	return func(d *desk) func() {
		d.click(d.button("Compare"))
		d.until("the bar", func() bool { return d.comparing() != nil })
		fyne.DoAndWait(func() { d.comparing().SetSelectedIndex(nth) })
		d.settle(func() {})
		return func() {
			fyne.DoAndWait(d.b.Compare)
			d.settle(func() {})
		}
	}
}

// comparing is the list of what can be compared with; nil while nothing is. Call it on
// the main goroutine.
func (d *desk) comparing() (list *widget.Select) {
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if s, ok := o.(*widget.Select); ok && len(s.Options) > 5 && s.Options[0] == "another power" {
			list = s
		}
	})
	return list
}

func comparedWithBefore(d *desk) func() {
	strike := d.edited(func(doc *job.Document) { doc.Picture.Tone.Mid = 0.5 })
	end := compared(1)(d)
	return func() {
		end()
		strike()
	}
}

// sheetOf shows a view in the easel's place.
func sheetOf(name string) func(d *desk) func() {
	return func(d *desk) func() {
		d.click(d.button(name))
		d.until("cards", func() bool { return d.cards() > 0 })
		return func() {}
	}
}

// cards is how many there are in the window; call it on the main goroutine.
func (d *desk) cards() (n int) {
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if _, ok := o.(*widgets.Card); ok {
			n++
		}
	})
	return n
}

func pinned(d *desk) func() {
	d.click(d.onPanel(layout.Point{X: 30, Y: 60}))
	d.until("a second core", func() bool { return d.shows("Pinned") || d.labelled("Pinned") })
	d.xdo(move(d.onPanel(layout.Point{X: -60, Y: -20}))...)
	d.until("a core at the pointer", func() bool { return d.shows("the pointer") })
	return func() {
		d.click(d.find("the pin's end", func(o fyne.CanvasObject) bool {
			b, ok := o.(*widget.Button)
			return ok && b.Text == "" && b.Icon != nil && d.middle(b).x > d.middle(d.win.Content()).x
		}))
	}
}

// labelled tells whether a label stands in the window; call it on the main goroutine.
func (d *desk) labelled(text string) bool {
	found := false
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok && l.Text == text {
			found = true
		}
	})
	return found
}

func sameDose(d *desk) func() {
	d.click(d.button("Same dose..."))
	d.until("a question", func() bool { return d.win.Canvas().Overlays().Top() != nil })
	return func() {
		d.click(d.button("Leave it"))
		d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
	}
}

// asked shows a question, which Escape puts away.
func asked(ask func(*bench.Bench)) func(d *desk) func() {
	return func(d *desk) func() {
		fyne.DoAndWait(func() { ask(d.b) })
		d.until("a question", func() bool { return d.win.Canvas().Overlays().Top() != nil })
		return func() {
			d.click(spot{d.corner.x + 20, d.corner.y + 300}) // beside it: the focus goes
			d.xdo("key", "Escape")
			d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
		}
	}
}

// tour shows the nth note of the tour.
func tour(nth int) func(d *desk) func() {
	return func(d *desk) func() {
		fyne.DoAndWait(d.b.Tour)
		for range nth {
			d.painted()
			d.click(d.button("Next"))
		}
		d.painted()
		return func() {
			d.click(d.button("Skip"))
			d.until("no note", func() bool { return d.win.Canvas().Overlays().Top() == nil })
		}
	}
}

// guide shows a chapter of the guide.
func guide(title string) func(d *desk) func() {
	return func(d *desk) func() {
		fyne.DoAndWait(d.b.ShowGuide)
		d.painted()
		d.click(d.find(title, func(o fyne.CanvasObject) bool {
			row, ok := o.(*widgets.PickRow)
			return ok && row.Label() == title
		}))
		d.painted()
		return func() {}
	}
}
