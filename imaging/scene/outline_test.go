package scene

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

// Derived: a length of 900 mm over 600 px is 2/3 px a mm.
func TestTheOutlineIsThePanelAtItsTrueSize(t *testing.T) {
	m := Mark{A: layout.PicturePoint{X: 100, Y: 700}, B: layout.PicturePoint{X: 700, Y: 700}, LengthMM: 900, Centre: layout.PicturePoint{X: 400, Y: 300}}
	panel := layout.Size{W: 300, H: 450}
	got, err := m.Outline(image.Pt(1000, 800), panel)
	require.NoError(t, err)
	for i, want := range []layout.PicturePoint{{X: 300, Y: 150}, {X: 500, Y: 150}, {X: 500, Y: 450}, {X: 300, Y: 450}} {
		require.InDelta(t, want.X, got[i].X, 1e-9)
		require.InDelta(t, want.Y, got[i].Y, 1e-9)
	}
	m.Centre.X = 50
	_, err = m.Outline(image.Pt(1000, 800), panel)
	require.ErrorContains(t, err, "reaches past the photo")
	_, err = Mark{Centre: layout.PicturePoint{X: 5, Y: 5}}.Outline(image.Pt(1000, 800), panel)
	require.ErrorIs(t, err, errNoScale)
}
