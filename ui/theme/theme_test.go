package theme

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
)

func TestEveryColourNameOfTheToolkitIsDefined(t *testing.T) {
	test.AssertAllColorNamesDefined(t, New(), "undercoat")
	test.AssertAllColorNamesDefined(t, Forced(theme.VariantLight), "undercoat light")
	test.AssertAllColorNamesDefined(t, Forced(theme.VariantDark), "undercoat dark")
	require.Equal(t, len(light), len(dark))
	for name := range light {
		require.Contains(t, dark, name)
	}
}

func TestVariants(t *testing.T) {
	background := func(th *Theme, v fyne.ThemeVariant) color.Color {
		return th.Color(theme.ColorNameBackground, v)
	}
	lit, dim := light[theme.ColorNameBackground], dark[theme.ColorNameBackground]
	const noPreference = fyne.ThemeVariant(2)

	require.Equal(t, lit, background(New(), theme.VariantLight))
	require.Equal(t, dim, background(New(), theme.VariantDark))
	require.Equal(t, dim, background(New(), noPreference))
	for _, asked := range []fyne.ThemeVariant{theme.VariantLight, theme.VariantDark, noPreference} {
		require.Equal(t, lit, background(Forced(theme.VariantLight), asked))
		require.Equal(t, dim, background(Forced(theme.VariantDark), asked))
	}
}

func TestUnknownNames(t *testing.T) {
	th := New()
	require.Equal(t, light[theme.ColorNameForeground], th.Color("no such colour", theme.VariantLight))
	require.Equal(t, theme.DefaultTheme().Size("no such size"), th.Size("no such size"))
	require.NotNil(t, th.Font(fyne.TextStyle{Bold: true}))
	require.NotNil(t, th.Icon(theme.IconNameConfirm))
}

// The left column of a window 800 high keeps 800 less the tool bar, the depth
// ribbon and the status line, some 590, for the drawers. Six headings and an open
// drawer with ten rows of entries have to fit in it.
func TestSizesHoldSixDrawers(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, Forced(theme.VariantDark))

	column := container.NewVBox()
	for range 6 {
		column.Add(widget.NewButton("Panel", nil))
	}
	for range 10 {
		column.Add(widget.NewEntry())
	}
	require.LessOrEqual(t, column.MinSize().Height, float32(590))
}
