package theme

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// sizes are smaller than the toolkit's: six drawers, the easel and the depth
// ribbon have to stand side by side at 1280 x 800.
var sizes = map[fyne.ThemeSizeName]float32{
	theme.SizeNameText:           13,
	theme.SizeNameCaptionText:    11,
	theme.SizeNameSubHeadingText: 15,
	theme.SizeNameHeadingText:    19,

	theme.SizeNamePadding:            3,
	theme.SizeNameInnerPadding:       6,
	theme.SizeNameLineSpacing:        3,
	theme.SizeNameInlineIcon:         16,
	theme.SizeNameSeparatorThickness: 1,

	theme.SizeNameInputBorder:     1,
	theme.SizeNameInputRadius:     3,
	theme.SizeNameSelectionRadius: 2,

	theme.SizeNameScrollBar:       10,
	theme.SizeNameScrollBarSmall:  3,
	theme.SizeNameScrollBarRadius: 2,

	theme.SizeNameWindowTitleBarHeight: 24,
	theme.SizeNameWindowButtonHeight:   14,
	theme.SizeNameWindowButtonRadius:   7,
	theme.SizeNameWindowButtonIcon:     12,
}
