package theme

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

var _ fyne.Theme = (*Theme)(nil)

// Theme is the look of the whole window. It is safe for use by several
// goroutines, since nothing in it changes.
type Theme struct {
	forced  bool
	variant fyne.ThemeVariant
}

// New is the theme which follows the variant that the desktop asks for; where
// the desktop asks for nothing it is dark.
func New() *Theme { return &Theme{} }

// Forced is the theme which keeps one variant, theme.VariantLight or
// theme.VariantDark, whatever the desktop asks for.
func Forced(variant fyne.ThemeVariant) *Theme { return &Theme{forced: true, variant: variant} }

// Color is the colour of a name in the variant, or in the forced one. An unknown
// name has the text's colour, so that whatever asked for it can be seen.
func (t *Theme) Color(name fyne.ThemeColorName, variant fyne.ThemeVariant) color.Color {
	if t.forced {
		variant = t.variant
	}
	p := dark
	if variant == theme.VariantLight {
		p = light
	}
	if c, ok := p[name]; ok {
		return c
	}
	return p[theme.ColorNameForeground]
}

// Font is the toolkit's own font: its figures are all of one width, so that
// readouts do not jump.
func (t *Theme) Font(style fyne.TextStyle) fyne.Resource { return theme.DefaultTheme().Font(style) }

// Icon is the toolkit's own icon, drawn in the text's colour.
func (t *Theme) Icon(name fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(name) }

// Size is the length of a name; a name unknown here has the toolkit's size.
func (t *Theme) Size(name fyne.ThemeSizeName) float32 {
	if s, ok := sizes[name]; ok {
		return s
	}
	return theme.DefaultTheme().Size(name)
}
