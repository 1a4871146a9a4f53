package theme

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

// texts are the lines of text in an object, those of its parts included.
func texts(o fyne.CanvasObject) []*canvas.Text {
	var out []*canvas.Text
	switch o := o.(type) {
	case *canvas.Text:
		return []*canvas.Text{o}
	case *fyne.Container:
		for _, inner := range o.Objects {
			out = append(out, texts(inner)...)
		}
	case fyne.Widget:
		for _, inner := range test.WidgetRenderer(o).Objects() {
			out = append(out, texts(inner)...)
		}
	}
	return out
}

// Source: W3C, Web Content Accessibility Guidelines 2.2 (2023), success
// criterion 1.4.3: text has a contrast of at least 4.5 : 1.
func TestKeysInMenusCanBeRead(t *testing.T) {
	test.NewTempApp(t)
	for name, variant := range map[string]fyne.ThemeVariant{"light": theme.VariantLight, "dark": theme.VariantDark} {
		t.Run(name, func(t *testing.T) {
			test.ApplyTheme(t, Forced(variant))
			item := fyne.NewMenuItem("Save the job", func() {})
			item.Shortcut = &desktop.CustomShortcut{KeyName: fyne.KeyS, Modifier: fyne.KeyModifierControl}
			menu := widget.NewMenu(fyne.NewMenu("File", item))
			menu.Resize(menu.MinSize())

			lines := texts(menu)
			require.Len(t, lines, 3, "the entry, its modifier and its key")
			surface := opaque(t, palettes[name], theme.ColorNameMenuBackground)
			for _, line := range lines {
				require.GreaterOrEqual(t, contrast(over(line.Color, surface), surface), 4.5, line.Text)
			}
		})
	}
}

func TestInkLooksOpaqueAndGrey(t *testing.T) {
	for _, v := range []uint8{0, 0x1c, 0xe4, 0xff} {
		for _, keys := range []uint8{0, 0x56, 0xa8} {
			got := color.NRGBAModel.Convert(ink(v, keys)).(color.NRGBA)
			require.Equal(t, colour.Stored{R: v, G: v, B: v}, colour.Stored{R: got.R, G: got.G, B: got.B}, "keys %x", keys)
			require.EqualValues(t, 0xff, got.A)
		}
	}
}
