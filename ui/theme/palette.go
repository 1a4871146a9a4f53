package theme

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// The window's own colour names.
const (
	// Surround lies round the panel on the easel: a plain grey of middling
	// lightness, against which neither dark nor light paints are flattered.
	Surround fyne.ThemeColorName = "undercoat.surround"
	// Ruler and RulerInk are the strips along the easel and what is written
	// on them.
	Ruler    fyne.ThemeColorName = "undercoat.ruler"
	RulerInk fyne.ThemeColorName = "undercoat.rulerInk"
	// Line and LineShade are drawn as a pair, the one beside the other, on top
	// of a picture: one of the two stands out whatever the paint.
	Line      fyne.ThemeColorName = "undercoat.line"
	LineShade fyne.ThemeColorName = "undercoat.lineShade"
	// Fold is laid over a panel's own colour where its face turns away, and
	// FoldLight where the light catches it.
	Fold      fyne.ThemeColorName = "undercoat.fold"
	FoldLight fyne.ThemeColorName = "undercoat.foldLight"
	// Shade is one of the few layers a panel's soft shadow is laid with.
	Shade fyne.ThemeColorName = "undercoat.shade"
	// Bar is a histogram's bar on the background.
	Bar fyne.ThemeColorName = "undercoat.bar"
	// BarBehind is a histogram's bar behind a curve, which must stand out from it.
	BarBehind fyne.ThemeColorName = "undercoat.barbehind"
	// Caution is the ink of a caution, always next to a mark or a word.
	Caution fyne.ThemeColorName = theme.ColorNameWarning
	// Quiet is the ink of what is read second: units, summaries, scales.
	Quiet fyne.ThemeColorName = theme.ColorNamePlaceHolder
)

type palette map[fyne.ThemeColorName]color.Color

func grey(v uint8) color.NRGBA          { return color.NRGBA{R: v, G: v, B: v, A: 0xff} }
func black(alpha uint8) color.NRGBA     { return color.NRGBA{A: alpha} }
func white(alpha uint8) color.NRGBA     { return color.NRGBA{R: 0xff, G: 0xff, B: 0xff, A: alpha} }
func solid(r, g, b uint8) color.NRGBA   { return color.NRGBA{R: r, G: g, B: b, A: 0xff} }
func tint(r, g, b, a uint8) color.NRGBA { return color.NRGBA{R: r, G: g, B: b, A: a} }

// ink is a grey that looks opaque, with the shade of grey that the toolkit takes
// from it for the keys beside its menus' entries. It means to take this very ink,
// but reads the low byte of each sixteen-bit channel, and of the opacity the low
// byte of 95 %: of a plain opaque colour a fifth, which nobody can read. Here
// those low bytes are keys and, the opacity being 65481 of 65535, 254.
func ink(v, keys uint8) color.RGBA64 {
	c := uint16(v)<<8 | uint16(keys)
	return color.RGBA64{R: c, G: c, B: c, A: 65481}
}

var light = palette{
	theme.ColorNameBackground:          grey(0xe8),
	theme.ColorNameHeaderBackground:    grey(0xdd),
	theme.ColorNameMenuBackground:      grey(0xf2),
	theme.ColorNameOverlayBackground:   grey(0xf0),
	theme.ColorNameInputBackground:     grey(0xfe),
	theme.ColorNameInputBorder:         grey(0x80),
	theme.ColorNameButton:              grey(0xd4),
	theme.ColorNameDisabledButton:      grey(0xe0),
	theme.ColorNameSeparator:           grey(0xba),
	theme.ColorNameScrollBar:           black(0x80),
	theme.ColorNameScrollBarBackground: grey(0xda),

	theme.ColorNameForeground:  ink(0x1c, 0x56),
	theme.ColorNamePlaceHolder: grey(0x56),
	theme.ColorNameDisabled:    grey(0x7e),

	theme.ColorNameHover:     black(0x12),
	theme.ColorNamePressed:   black(0x24),
	theme.ColorNameShadow:    black(0x40),
	theme.ColorNameFocus:     tint(0x7d, 0x8e, 0x9e, 0x80),
	theme.ColorNameSelection: tint(0x7d, 0x8e, 0x9e, 0x66),

	theme.ColorNamePrimary:   solid(0x3c, 0x47, 0x52),
	theme.ColorNameHyperlink: solid(0x3a, 0x4d, 0x60),
	theme.ColorNameError:     solid(0x7d, 0x46, 0x3e),
	theme.ColorNameWarning:   solid(0x66, 0x54, 0x30),
	theme.ColorNameSuccess:   solid(0x43, 0x5c, 0x48),

	theme.ColorNameForegroundOnPrimary: grey(0xff),
	theme.ColorNameForegroundOnError:   grey(0xff),
	theme.ColorNameForegroundOnWarning: grey(0xff),
	theme.ColorNameForegroundOnSuccess: grey(0xff),

	Surround:  grey(0xb2),
	Ruler:     grey(0xda),
	RulerInk:  grey(0x3c),
	Line:      white(0xf0),
	LineShade: black(0xb0),
	Fold:      black(0x48),
	FoldLight: white(0x38),
	Shade:     black(0x18),
	Bar:       grey(0x7a),
	BarBehind: grey(0x92),
}

var dark = palette{
	theme.ColorNameBackground:          grey(0x25),
	theme.ColorNameHeaderBackground:    grey(0x2e),
	theme.ColorNameMenuBackground:      grey(0x2f),
	theme.ColorNameOverlayBackground:   grey(0x2c),
	theme.ColorNameInputBackground:     grey(0x19),
	theme.ColorNameInputBorder:         grey(0x78),
	theme.ColorNameButton:              grey(0x3a),
	theme.ColorNameDisabledButton:      grey(0x2e),
	theme.ColorNameSeparator:           grey(0x42),
	theme.ColorNameScrollBar:           white(0x80),
	theme.ColorNameScrollBarBackground: grey(0x1e),

	theme.ColorNameForeground:  ink(0xe4, 0xa8),
	theme.ColorNamePlaceHolder: grey(0xa8),
	theme.ColorNameDisabled:    grey(0x7c),

	theme.ColorNameHover:     white(0x14),
	theme.ColorNamePressed:   white(0x28),
	theme.ColorNameShadow:    black(0x80),
	theme.ColorNameFocus:     tint(0x7f, 0x93, 0xa6, 0x66),
	theme.ColorNameSelection: tint(0x7f, 0x93, 0xa6, 0x66),

	theme.ColorNamePrimary:   solid(0xb9, 0xc4, 0xce),
	theme.ColorNameHyperlink: solid(0xb4, 0xc6, 0xd6),
	theme.ColorNameError:     solid(0xdc, 0xaf, 0xa7),
	theme.ColorNameWarning:   solid(0xd4, 0xc4, 0x98),
	theme.ColorNameSuccess:   solid(0xab, 0xc6, 0xb0),

	theme.ColorNameForegroundOnPrimary: grey(0x16),
	theme.ColorNameForegroundOnError:   grey(0x16),
	theme.ColorNameForegroundOnWarning: grey(0x16),
	theme.ColorNameForegroundOnSuccess: grey(0x16),

	Surround:  grey(0x46),
	Ruler:     grey(0x1e),
	RulerInk:  grey(0xb4),
	Line:      white(0xf0),
	LineShade: black(0xb0),
	Fold:      black(0x58),
	FoldLight: white(0x2c),
	Shade:     black(0x22),
	Bar:       grey(0x8c),
	BarBehind: grey(0x66),
}
