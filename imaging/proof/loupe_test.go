package proof_test

import (
	"context"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
)

func loupe(t testing.TB, r proof.Recipe, bits *plane.Bits, w proof.Window, width, height int) *image.RGBA {
	t.Helper()
	img, err := proof.Loupe(context.Background(), r, burn.OneBit(bits), w, width, height)
	require.NoError(t, err)
	require.Equal(t, image.Rect(0, 0, width, height), img.Rect)
	return img
}

func TestLoupeOfWholeDotsIsTheExactProof(t *testing.T) {
	bits := dots(t, picture(80, 60), screen.Options{})
	r := recipe(threeCoats())
	for _, size := range []image.Point{{X: 80, Y: 60}, {X: 40, Y: 30}, {X: 33, Y: 21}} {
		got := loupe(t, r, bits, proof.Window{W: 80, H: 60}, size.X, size.Y)
		want := exact(t, r, bits, whole(bits), size.X, size.Y)
		for y := range size.Y {
			for x := range size.X {
				require.InDelta(t, at(want, x, y).G, at(got, x, y).G, 1)
			}
		}
	}
}

func TestLoupeAgainstThePlainWayBetweenDotAndSample(t *testing.T) {
	bits := dots(t, picture(40, 30), screen.Options{})
	r := recipe(threeCoats())
	r.Grid = 4
	got := loupe(t, r, bits, proof.Window{X: 5, Y: 7, W: 20, H: 10}, 70, 35)
	requireNear(t, plainly(t, r, 4, bits, image.Rect(5, 7, 25, 17), 70, 35), got, 1)
}

// Parts of a dot show the dose field itself, which runs smoothly from sample to
// sample.
func TestLoupeWithinADot(t *testing.T) {
	bits := plane.NewBits(9, 9)
	bits.Set(4, 4)
	r := recipe(threeCoats())
	img := loupe(t, r, bits, proof.Window{X: 3, Y: 3, W: 3, H: 3}, 300, 300)
	m, err := r.Stack.Compile(coat.Options{})
	require.NoError(t, err)
	var doses [][]float32
	err = burn.Expose(context.Background(), r.Machine, r.Setting, 1, burn.OneBit(bits), image.Rect(3, 3, 6, 6), 8, func(_ int, row []float32) error {
		doses = append(doses, append([]float32(nil), row...))
		return nil
	})
	require.NoError(t, err)
	for j := range 24 {
		for i := range 24 {
			// The middle of a sample lies at 12.5 pixels a sample, between two.
			x, y := int((float64(i)+0.5)*12.5), int((float64(j)+0.5)*12.5)
			want := m.Look(float64(doses[j][i])).Stored()
			require.InDelta(t, want.G, at(img, x, y).G, 6, "sample %d, %d", i, j)
		}
	}
	// The dot is as broad on its left as on its right, as tall above as below.
	for i := range 150 {
		require.InDelta(t, at(img, 149-i, 150).G, at(img, 150+i, 150).G, 1)
		require.InDelta(t, at(img, 150, 149-i).G, at(img, 150, 150+i).G, 1)
	}
	centre, corner := at(img, 150, 150), at(img, 0, 0)
	require.NotEqual(t, r.Stack.Coats[0].Colour, centre)
	require.Equal(t, r.Stack.Coats[0].Colour, corner)
}

func TestLoupePastTheRaster(t *testing.T) {
	s := lightOnDark()
	bits := dots(t, even(10, 10, math.MaxUint16), screen.Options{})
	for _, size := range []int{30, 600} { // averaged, and magnified
		img := loupe(t, recipe(s), bits, proof.Window{X: -10, Y: -10, W: 30, H: 30}, size, size)
		require.Equal(t, s.Coats[0].Colour, at(img, 0, 0))
		require.Equal(t, s.Coats[0].Colour, at(img, size-1, size/2))
		require.NotEqual(t, s.Coats[0].Colour, at(img, size/2, size/2))
		require.Equal(t, uint8(255), img.RGBAAt(0, 0).A)
	}
	far := loupe(t, recipe(s), bits, proof.Window{X: 500, Y: 0, W: 30, H: 30}, 5, 5)
	require.Equal(t, s.Coats[0].Colour, at(far, 2, 2))
}

func TestLoupeRefusesAndStops(t *testing.T) {
	bits := plane.NewBits(10, 10)
	for _, w := range []proof.Window{
		{}, {W: 5}, {W: -1, H: 4}, {W: math.NaN(), H: 4}, {X: math.NaN(), W: 4, H: 4}, {Y: math.Inf(1), W: 4, H: 4}, {W: 1e9, H: 1},
	} {
		_, err := proof.Loupe(context.Background(), recipe(threeCoats()), burn.OneBit(bits), w, 10, 10)
		require.ErrorContains(t, err, "window", "%v", w)
	}
	_, err := proof.Loupe(context.Background(), recipe(threeCoats()), burn.OneBit(bits), proof.Window{W: 5, H: 5}, 0, 10)
	require.ErrorContains(t, err, "view of 0 x 10")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, side := range []float64{10, 4, 0.5} {
		_, err := proof.Loupe(ctx, recipe(threeCoats()), burn.OneBit(bits), proof.Window{W: side, H: side}, 10, 10)
		require.ErrorIs(t, err, context.Canceled)
	}
}
