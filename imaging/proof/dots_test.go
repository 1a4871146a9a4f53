package proof_test

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
)

func TestDotsShowsEachDot(t *testing.T) {
	bits := plane.NewBits(11, 3)
	bits.Set(9, 1)
	img, err := proof.Dots(t.Context(), bits, image.Rect(8, 0, 11, 3), 9, 9)
	require.NoError(t, err)
	for y := range 9 {
		for x := range 9 {
			want := proof.Paper
			if x/3 == 1 && y/3 == 1 {
				want = proof.Ink
			}
			require.Equal(t, want.R, img.RGBAAt(x, y).R, "%d, %d", x, y)
		}
	}
}

func TestDotsAveragesInLinearLight(t *testing.T) {
	bits := plane.NewBits(8, 8)
	for y := range 8 {
		for x := range 8 {
			if (x+y)%2 == 0 {
				bits.Set(x, y)
			}
		}
	}
	img, err := proof.Dots(t.Context(), bits, image.Rect(0, 0, 8, 8), 2, 2)
	require.NoError(t, err)
	want := colour.Mix(proof.Ink.Linear(), proof.Paper.Linear(), 0.5).Stored()
	require.Equal(t, want.R, img.RGBAAt(1, 1).R)
}

func TestDotsRefusesWhatIsOutside(t *testing.T) {
	bits := plane.NewBits(4, 4)
	for _, r := range []image.Rectangle{{}, image.Rect(0, 0, 5, 4), image.Rect(-1, 0, 2, 2)} {
		_, err := proof.Dots(t.Context(), bits, r, 4, 4)
		require.ErrorContains(t, err, "does not lie within the raster")
	}
	_, err := proof.Dots(t.Context(), bits, image.Rect(0, 0, 4, 4), 0, 4)
	require.ErrorContains(t, err, "out of range")
}
