package theme

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

// contrast is the contrast ratio of two opaque colours.
// Source: W3C, Web Content Accessibility Guidelines 2.2 (2023), "contrast ratio".
func contrast(a, b colour.Stored) float64 {
	hi, lo := a.Linear().Y(), b.Linear().Y()
	if hi < lo {
		hi, lo = lo, hi
	}
	return (hi + 0.05) / (lo + 0.05)
}

// over lays a colour over an opaque one, as the toolkit does: in stored values.
func over(top color.Color, under colour.Stored) colour.Stored {
	c := color.NRGBAModel.Convert(top).(color.NRGBA)
	mix := func(a, b uint8) uint8 {
		share := float64(c.A) / 255
		return uint8(math.Round(float64(a)*share + float64(b)*(1-share)))
	}
	return colour.Stored{R: mix(c.R, under.R), G: mix(c.G, under.G), B: mix(c.B, under.B)}
}

func opaque(t *testing.T, p palette, name fyne.ThemeColorName) colour.Stored {
	t.Helper()
	c := color.NRGBAModel.Convert(p[name]).(color.NRGBA)
	require.EqualValues(t, 0xff, c.A, name)
	return colour.Stored{R: c.R, G: c.G, B: c.B}
}

var palettes = map[string]palette{"light": light, "dark": dark}

// Source: W3C, Web Content Accessibility Guidelines 2.2 (2023), definition of
// the contrast ratio: it ranges from 1 to 21.
func TestContrastRatioEnds(t *testing.T) {
	black, white := colour.Stored{}, colour.Stored{R: 255, G: 255, B: 255}
	require.InDelta(t, 21, contrast(black, white), 1e-9)
	require.InDelta(t, 1, contrast(white, white), 1e-9)
}

// Source: W3C, Web Content Accessibility Guidelines 2.2 (2023), success
// criterion 1.4.3: text has a contrast of at least 4.5 : 1.
func TestTextContrast(t *testing.T) {
	const least = 4.5
	surfaces := []fyne.ThemeColorName{
		theme.ColorNameBackground, theme.ColorNameHeaderBackground, theme.ColorNameMenuBackground,
		theme.ColorNameOverlayBackground, theme.ColorNameInputBackground, theme.ColorNameButton,
	}
	inks := []fyne.ThemeColorName{
		theme.ColorNameForeground, theme.ColorNamePlaceHolder, theme.ColorNameHyperlink, theme.ColorNamePrimary,
		theme.ColorNameError, theme.ColorNameWarning, theme.ColorNameSuccess,
	}
	for variant, p := range palettes {
		for _, surface := range surfaces {
			under := opaque(t, p, surface)
			for _, ink := range inks {
				t.Run(fmt.Sprintf("%s/%s on %s", variant, ink, surface), func(t *testing.T) {
					require.GreaterOrEqual(t, contrast(opaque(t, p, ink), under), least)
				})
			}
			for _, veil := range []fyne.ThemeColorName{
				theme.ColorNameHover, theme.ColorNamePressed, theme.ColorNameFocus, theme.ColorNameSelection,
			} {
				t.Run(fmt.Sprintf("%s/text on %s under %s", variant, surface, veil), func(t *testing.T) {
					require.GreaterOrEqual(t, contrast(opaque(t, p, theme.ColorNameForeground), over(p[veil], under)), least)
				})
			}
		}
		t.Run(variant+"/ruler", func(t *testing.T) {
			require.GreaterOrEqual(t, contrast(opaque(t, p, RulerInk), opaque(t, p, Ruler)), least)
		})
	}
}

func TestTextContrastOnFilledButtons(t *testing.T) {
	pairs := map[fyne.ThemeColorName]fyne.ThemeColorName{
		theme.ColorNameForegroundOnPrimary: theme.ColorNamePrimary,
		theme.ColorNameForegroundOnError:   theme.ColorNameError,
		theme.ColorNameForegroundOnWarning: theme.ColorNameWarning,
		theme.ColorNameForegroundOnSuccess: theme.ColorNameSuccess,
	}
	for variant, p := range palettes {
		for ink, fill := range pairs {
			t.Run(fmt.Sprintf("%s/%s", variant, fill), func(t *testing.T) {
				text, under := opaque(t, p, ink), opaque(t, p, fill)
				require.GreaterOrEqual(t, contrast(text, under), 4.5)
				for _, veil := range []fyne.ThemeColorName{theme.ColorNameHover, theme.ColorNameFocus} {
					require.GreaterOrEqual(t, contrast(text, over(p[veil], under)), 4.5, veil)
				}
				require.GreaterOrEqual(t, colour.DE2000(under.Linear().Lab(), over(p[theme.ColorNameFocus], under).Linear().Lab()), 3.0,
					"a filled button that has the focus looks different from one that has not")
			})
		}
	}
}

// Source: W3C, Web Content Accessibility Guidelines 2.2 (2023), success
// criterion 1.4.11: what marks a control or its focus has a contrast of at least 3 : 1.
func TestMarksOfControls(t *testing.T) {
	for variant, p := range palettes {
		background := opaque(t, p, theme.ColorNameBackground)
		for _, mark := range []fyne.ThemeColorName{theme.ColorNameInputBorder, theme.ColorNamePrimary, theme.ColorNameDisabled, Bar} {
			t.Run(fmt.Sprintf("%s/%s", variant, mark), func(t *testing.T) {
				require.GreaterOrEqual(t, contrast(opaque(t, p, mark), background), 3.0)
			})
		}
		t.Run(variant+"/focus ring on the surround", func(t *testing.T) {
			require.GreaterOrEqual(t, contrast(opaque(t, p, theme.ColorNamePrimary), opaque(t, p, Surround)), 3.0)
		})
	}
}

// The same criterion: the bars behind a curve stand out from the ground, and the curve and
// its points from the bars.
func TestACurveStandsOutFromItsHistogram(t *testing.T) {
	for variant, p := range palettes {
		bar := opaque(t, p, BarBehind)
		require.GreaterOrEqual(t, contrast(bar, opaque(t, p, theme.ColorNameInputBackground)), 3.0, variant)
		require.GreaterOrEqual(t, contrast(opaque(t, p, theme.ColorNameForeground), bar), 4.5, variant)
	}
}

// One of the two lines that are drawn side by side stands out on any paint.
func TestLinePairStandsOutOnAnyPaint(t *testing.T) {
	for variant, p := range palettes {
		for v := 0; v <= 255; v++ {
			paint := colour.Stored{R: uint8(v), G: uint8(v), B: uint8(v)}
			bright, shade := over(p[Line], paint), over(p[LineShade], paint)
			require.GreaterOrEqual(t, contrast(bright, shade), 4.5, "%s on %s", variant, paint)
			require.GreaterOrEqual(t, max(contrast(bright, paint), contrast(shade, paint)), 3.0, "%s on %s", variant, paint)
		}
	}
}

// Chroma is that of CIE 1976 L*a*b*. The bounds are this project's own: 1 cannot
// be told from grey, and the paints of a job reach 40 and more.
func TestNothingIsStronglyColoured(t *testing.T) {
	surfaces := []fyne.ThemeColorName{
		theme.ColorNameBackground, theme.ColorNameHeaderBackground, theme.ColorNameMenuBackground,
		theme.ColorNameOverlayBackground, theme.ColorNameInputBackground, theme.ColorNameButton,
		theme.ColorNameDisabledButton, theme.ColorNameSeparator, Surround, Ruler, RulerInk, Bar, BarBehind,
		theme.ColorNameForeground, theme.ColorNamePlaceHolder,
	}
	for variant, p := range palettes {
		for _, name := range surfaces {
			require.Less(t, chroma(p[name]), 1.0, "%s %s", variant, name)
		}
		for name, c := range p {
			require.Less(t, chroma(c), 30.0, "%s %s", variant, name)
		}
		require.Less(t, chroma(p[theme.ColorNamePrimary]), 10.0, variant)
	}
}

func chroma(c color.Color) float64 {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	lab := colour.Stored{R: n.R, G: n.G, B: n.B}.Linear().Lab()
	return math.Hypot(lab.A, lab.B)
}
