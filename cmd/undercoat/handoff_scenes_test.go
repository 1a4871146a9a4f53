package main

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// fold closes the sections of a drawer.
func (d *desk) fold(drawer int) {
	fyne.DoAndWait(func() {
		outer := d.b.Drawers()[drawer]
		walk(outer, func(o fyne.CanvasObject) {
			if s, ok := o.(*widgets.Drawer); ok && s != outer {
				s.SetOpen(false)
			}
		})
	})
	d.painted()
}

// equipped gives the session a workshop and takes it away afterwards.
func (d *desk) equipped(w session.Workshop, title string) func() {
	d.t.Helper()
	set := func(w session.Workshop) {
		var err error
		fyne.DoAndWait(func() {
			err = d.b.Session().SetWorkshop(w)
			d.b.Refresh()
		})
		require.NoError(d.t, err)
	}
	set(w)
	d.unfold(handOffNth, title)
	return func() {
		set(session.Workshop{})
		d.fold(handOffNth)
	}
}

func workshopFilled(d *desk) func() {
	start, err := job.ParseStart("2026-05-01 09:00")
	require.NoError(d.t, err)
	return d.equipped(session.Workshop{Workshop: job.Workshop{Start: start, Rights: "own photograph"}, Sections: 200}, "Workshop")
}

func priced(d *desk) func() {
	rates := export.Rates{Kind: export.RatesKind, Version: export.RatesVersion, Currency: "EUR", Panel: 12, Can: 9.5, Other: 4, MachineHour: 3, HandHour: 25, SurchargePercent: 10}
	strike := d.equipped(session.Workshop{Workshop: job.Workshop{Rates: &rates}}, "Price")
	d.until("a price", func() bool { return d.says("In all ") })
	return strike
}

func inSections(d *desk) func() {
	strike := d.equipped(session.Workshop{Sections: 200}, "Sections")
	d.until("seams", func() bool { return d.says("Seam between 1 and 2") })
	return strike
}

// says tells whether a remark on show begins with a text.
func (d *desk) says(text string) bool {
	found := false
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if r, ok := o.(*widgets.Remarks); ok {
			for _, t := range r.Texts() {
				found = found || strings.HasPrefix(t, text)
			}
		}
	})
	return found
}

func onWall(d *desk) func() {
	d.unfold(handOffNth, "On a wall")
	fyne.DoAndWait(d.b.ShowWall)
	d.until("a card", func() bool { return d.cards() == 1 })
	return func() {
		fyne.DoAndWait(func() { d.b.Show(session.ProofView) })
		d.fold(handOffNth)
	}
}

func otherPaints(d *desk) func() {
	toggle := func() {
		fyne.DoAndWait(func() {
			var rows []*widgets.PickRow
			walk(d.b.Drawers()[handOffNth], func(o fyne.CanvasObject) {
				if r, ok := o.(*widgets.PickRow); ok {
					rows = append(rows, r)
				}
			})
			for _, r := range rows[:3] {
				r.OnTapped()
			}
		})
	}
	strike := onWall(d)
	toggle()
	d.until("a card of three", func() bool {
		wide := false
		walk(d.win.Content(), func(o fyne.CanvasObject) {
			if c, ok := o.(*widgets.Card); ok && c.Picture() != nil {
				wide = c.Picture().Rect.Dx() > 2*c.Picture().Rect.Dy()
			}
		})
		return wide
	})
	return func() {
		d.unfold(handOffNth, "On a wall")
		toggle()
		strike()
	}
}

// markedWall asks how large a drawn wall with a door in it is.
func markedWall(d *desk) func() {
	path := filepath.Join(d.t.TempDir(), "hall.png")
	require.NoError(d.t, os.WriteFile(path, drawnWall(d), 0o600))
	d.waited(func() <-chan struct{} { return d.b.MarkWall(path) })
	d.until("a question", func() bool { return d.win.Canvas().Overlays().Top() != nil })
	fyne.DoAndWait(func() {
		walk(d.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
			switch o := o.(type) {
			case *widgets.PointPicker:
				o.SetPoints([]layout.PicturePoint{{X: 850, Y: 200}, {X: 1150, Y: 200}, {X: 430, Y: 420}}, []string{"End", "Other end", "Panel"}, [][2]int{{0, 1}})
			case *widgets.Named:
				if entry, ok := o.Control().(*widget.Entry); ok {
					entry.SetText("860 mm")
				}
			}
		})
	})
	return func() {
		d.click(d.button("Leave it"))
		d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
	}
}

func drawnWall(d *desk) []byte {
	img := image.NewRGBA(image.Rect(0, 0, 1280, 960))
	fill := func(r image.Rectangle, c color.RGBA) {
		draw.Draw(img, r, &image.Uniform{C: c}, image.Point{}, draw.Src)
	}
	fill(img.Rect, color.RGBA{214, 208, 196, 255})
	fill(image.Rect(0, 900, 1280, 960), color.RGBA{120, 92, 64, 255})
	fill(image.Rect(830, 180, 1170, 900), color.RGBA{240, 238, 232, 255})
	fill(image.Rect(850, 200, 1150, 900), color.RGBA{168, 132, 92, 255})
	var b bytes.Buffer
	require.NoError(d.t, png.Encode(&b, img))
	return b.Bytes()
}
