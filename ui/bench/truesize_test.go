package bench

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
)

func TestTrueSizeIsMeasuredOnceByACard(t *testing.T) {
	d := newDesk(t)
	t.Cleanup(func() { fyne.CurrentApp().Preferences().RemoveValue(screenPreference) })
	d.TrueSize()
	slider := object(d, "slider", func(*widget.Slider) bool { return true })
	slider.SetValue(428)
	d.tap("It is as large as the card")
	require.Nil(t, d.win.Canvas().Overlays().Top())
	// Source: ISO/IEC 7810:2019, ID-1: a card is 85.60 mm wide.
	require.InDelta(t, 428/85.60*float64(d.win.Canvas().Scale()), d.easel.View().PixelsPerMM, 1e-6)

	d.easel.Fit()
	d.TrueSize()
	require.Nil(t, d.win.Canvas().Overlays().Top(), "the screen is known now")
	require.InDelta(t, 5*float64(d.win.Canvas().Scale()), d.easel.View().PixelsPerMM, 1e-6)
}
