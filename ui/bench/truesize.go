package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/ui/widgets"
)

// screenPreference keeps the screen's pixels to a millimetre.
const screenPreference = "screen.pixels-per-mm"

// The pixels to a millimetre of a screen that nobody would doubt: 25 to 760 an inch.
const leastScreen, mostScreen = 1, 30

// TrueSize shows the panel as large as it is. The screen is measured before the first
// time.
func (b *Bench) TrueSize() {
	perMM := fyne.CurrentApp().Preferences().Float(screenPreference)
	if perMM < leastScreen || perMM > mostScreen {
		b.askScreen()
		return
	}
	b.leaveSheet()
	b.toolbar.refresh()
	b.easel.ZoomTo(perMM)
}

// askScreen measures the screen by a card that is laid on it.
func (b *Bench) askScreen() {
	const usual = 320 // of 96 pixels an inch
	outline := widgets.NewCardOutline(usual)
	if perMM := fyne.CurrentApp().Preferences().Float(screenPreference); perMM >= leastScreen && perMM <= mostScreen {
		outline.SetWide(float32(perMM*float64(widgets.CardWide)) / b.win.Canvas().Scale())
	}
	wide := widget.NewSlider(widgets.NarrowestCard, widgets.WidestCard)
	wide.Step = 1
	wide.SetValue(outline.PixelsPerMM() * float64(widgets.CardWide) / float64(b.win.Canvas().Scale()))
	wide.OnChanged = func(v float64) { outline.SetWide(float32(v)) }
	what := widgets.NewRemarks(false)
	what.Set(said(lang.X("screen.what", "Lay a bank card on the screen, or anything of its size, and make the outline as large as the card. This is asked once; measure again after moving to another screen.")))
	d := dialog.NewCustomWithoutButtons(lang.X("screen.title", "Measure the screen"), container.NewBorder(what, wide, nil, nil, outline), b.win)
	use := widget.NewButton(lang.X("screen.use", "It is as large as the card"), func() {
		d.Hide()
		fyne.CurrentApp().Preferences().SetFloat(screenPreference, outline.PixelsPerMM())
		b.TrueSize()
	})
	use.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{widget.NewButton(lang.X("screen.leave", "Leave it"), d.Hide), use})
	b.ask(d)
	b.win.Canvas().Focus(wide)
}
