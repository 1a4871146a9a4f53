package widgets

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"undercoat/layout"
)

// column is a column of drawers as the window has it.
func demoColumn() *fyne.Container {
	fields := container.NewVBox()
	for _, f := range [][2]string{{"width", "mm"}, {"height", "mm"}, {"edge depth", "mm"}} {
		field := NewField(f[0], f[1])
		field.SetText("300")
		fields.Add(field)
	}
	border := NewField("border", "mm")
	border.Validate = func(s string) error {
		_, err := layout.ParseBorder(s, layout.Millimetre)
		return err
	}
	border.entry.SetText("6, 6 m")
	border.commit()
	fields.Add(border)
	fields.Add(container.NewHBox(widget.NewButton("Even border", nil), widget.NewCheck("show cross", nil)))
	panel := NewDrawer("Panel", fields)
	panel.SetOpen(true)

	column := container.New(tightColumn{}, panel)
	for _, d := range [][2]string{
		{"Coats", "graphite, teal, cream"}, {"Swatches", "not burned yet"}, {"Picture", "crop 2400 × 1800, turned"},
		{"Burn", "30 %, 1500 mm/min, 0.1 mm"}, {"Hand-off", "2 cautions"},
	} {
		drawer := NewDrawer(d[0], widget.NewLabel("…"))
		drawer.SetSummary(d[1])
		column.Add(drawer)
	}
	return column
}

func TestDrawerShots(t *testing.T) {
	if *shots == "" {
		t.Skip("pictures to look at are made with -shots FOLDER")
	}
	for name, variant := range variants {
		column := demoColumn()
		s := show(t, variant, column, fyne.NewSize(290, 460))
		column.Refresh()
		s.window.Canvas().Focus(column.Objects[2].(*Drawer).head)
		s.capture("drawers-" + name)

		n := NewNotice()
		n.TellError(errors.New("border 160 mm left and 160 mm right leave nothing of a 300 mm panel: choose a smaller border"))
		status := NewStatusLine("00000 x 00000 dots", "0.000 mm", "burns about 88 h 88 min", "does not fit", "88 cautions")
		for i, text := range []string{"3600 x 4850 dots", "0.080 mm", "burns about 8 h 10 min", "fits"} {
			status.Set(i, text, Plain)
		}
		status.Set(4, "2 cautions", Careful)
		status.SetProgress(0.6)
		offer := NewNotice()
		offer.Inform("The last session ended without saving.", "What was not saved can be brought back.")
		offer.SetAction("Bring back", func() {})
		s = show(t, variant, container.NewBorder(container.NewVBox(n, offer), status, nil, nil), fyne.NewSize(900, 180))
		s.capture("bars-" + name)
	}
}
