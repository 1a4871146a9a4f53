package proof_test

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/proof"
)

func flat(w, h int, c colour.Stored) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, c)
		}
	}
	return img
}

// inked counts the pixels of an area that letters have darkened.
func inked(img *image.RGBA, r image.Rectangle) int {
	n := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if img.RGBAAt(x, y).R < 0x80 {
				n++
			}
		}
	}
	return n
}

func TestCaptionedKeepsTheProofAndWritesBelow(t *testing.T) {
	teal := colour.Stored{R: 0x10, G: 0x80, B: 0x80}
	img, err := proof.Captioned(flat(300, 80, teal), "uncalibrated, colours and depth are a guess")
	require.NoError(t, err)
	require.Equal(t, 300, img.Rect.Dx())
	require.Greater(t, img.Rect.Dy(), 80)
	for _, p := range []image.Point{{}, {X: 299}, {Y: 79}, {X: 299, Y: 79}} {
		require.Equal(t, teal.G, img.RGBAAt(p.X, p.Y).G)
	}
	require.Positive(t, inked(img, image.Rect(0, 80, 300, img.Rect.Dy())))
	require.Zero(t, inked(img, image.Rect(298, 80, 300, img.Rect.Dy())), "the line goes into the width")
}

func TestCaptionedWithoutWordsIsTheProof(t *testing.T) {
	img, err := proof.Captioned(flat(30, 20, colour.Stored{R: 9}))
	require.NoError(t, err)
	require.Equal(t, image.Rect(0, 0, 30, 20), img.Rect)
}

func TestSideBySideHoldsEveryProof(t *testing.T) {
	red, green := colour.Stored{R: 0xff}, colour.Stored{G: 0xff}
	img, err := proof.SideBySide([]proof.Labelled{
		{Image: flat(100, 60, red), Lines: []string{"20 %", "top coat 60 %"}},
		{Image: flat(100, 60, green), Lines: []string{"30 %"}},
	}, "a foot")
	require.NoError(t, err)
	reds, greens := 0, 0
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			switch c := img.RGBAAt(x, y); {
			case c.R == 0xff && c.G == 0:
				reds++
			case c.G == 0xff && c.R == 0:
				greens++
			}
		}
	}
	require.Equal(t, []int{6000, 6000}, []int{reds, greens})
	_, err = proof.SideBySide(nil)
	require.Error(t, err)
}
