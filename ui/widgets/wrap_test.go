package widgets

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestWrappedBreaksBetweenWords(t *testing.T) {
	const size = 12
	plain := fyne.TextStyle{}
	text := "choose a smaller border"
	width := measure("choose a", size, plain).Width + 1
	require.Equal(t, []string{"choose a", "smaller", "border"}, wrapped(text, size, plain, width))
	require.Equal(t, []string{text}, wrapped(text, size, plain, 1000))
	require.Equal(t, []string{text}, wrapped(text, size, plain, 0), "before there is a width")
	require.Empty(t, wrapped("  ", size, plain, 100))
}

func TestNoLineIsWiderThanItsRoom(t *testing.T) {
	const size = 12
	plain := fyne.TextStyle{}
	require.Len(t, wrapped("é/ü", size, plain, 0.5), 3, "a letter a line at the least")
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zé/ _.]{0,60}`).Draw(t, "text")
		width := float32(rapid.IntRange(20, 300).Draw(t, "width"))
		lines := wrapped(text, size, plain, width)
		for _, line := range lines {
			require.LessOrEqual(t, measure(line, size, plain).Width, width)
		}
		letters := func(s string) string { return strings.Join(strings.Fields(s), "") }
		require.Equal(t, letters(text), letters(strings.Join(lines, "")), "nothing is lost")
	})
}

func TestANumberKeepsItsPerCent(t *testing.T) {
	wide := measure("as much as fits, 99", 14, fyne.TextStyle{}).Width + 1
	require.Equal(t, []string{"as much as fits,", "99 % of it"}, wrapped("as much as fits, 99 % of it", 14, fyne.TextStyle{}, wide))
	require.Equal(t, []string{"12 %"}, wrapped("12 %", 14, fyne.TextStyle{}, 0))
}
