package widgets

import (
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	house "undercoat/ui/theme"
)

// The signs that stand beside cautions and errors, so that their ink is not all
// that tells them. Each is made once: the toolkit keeps what it paints by identity.
var (
	cautionMark = markOf(theme.IconNameWarning, house.Caution)
	errorMark   = markOf(theme.IconNameError, theme.ColorNameError)
	infoMark    = markOf(theme.IconNameInfo, theme.ColorNameForeground)
	closeMark   = markOf(theme.IconNameCancel, theme.ColorNameForeground)
	shutMark    = markOf(theme.IconNameMenuExpand, theme.ColorNameForeground)
	openMark    = markOf(theme.IconNameArrowDropDown, theme.ColorNameForeground)
)

func markOf(icon fyne.ThemeIconName, ink fyne.ThemeColorName) func() fyne.Resource {
	return sync.OnceValue(func() fyne.Resource {
		return theme.NewColoredResource(theme.DefaultTheme().Icon(icon), ink)
	})
}
