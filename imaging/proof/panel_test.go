package proof_test

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// placed is a panel of 100 x 80 mm with the given borders, in dots of 0.1 mm.
func placed(t testing.TB, b layout.Border) layout.Placement {
	t.Helper()
	pl, err := layout.Place(layout.Panel{Kind: layout.Board, Size: layout.Size{W: 100, H: 80}}, b, 0.1)
	require.NoError(t, err)
	return pl
}

func TestPanelLaysThePictureInItsPlace(t *testing.T) {
	s := lightOnDark()
	r := recipe(s)
	pl := placed(t, layout.Border{Left: 10, Right: 30, Top: 20, Bottom: 10})
	for name, picture := range map[string]image.Point{"as it is": {X: 120, Y: 100}, "averaged": {X: 240, Y: 200}, "enlarged": {X: 12, Y: 10}} {
		t.Run(name, func(t *testing.T) {
			img := proof.Panel(r, pl, grey(picture.X, picture.Y, func(int, int) uint8 { return 0 }), 200, 160)
			require.Equal(t, image.Rect(0, 0, 200, 160), img.Rect)
			black := colour.Stored{}
			for y := range 160 {
				for x := range 200 {
					want := s.Coats[0].Colour
					if x >= 20 && x < 140 && y >= 40 && y < 140 {
						want = black
					}
					require.Equal(t, want, at(img, x, y), "%d, %d", x, y)
				}
			}
		})
	}
}

func TestPanelAveragesInLinearLight(t *testing.T) {
	// Source: IEC 61966-2-1:1999: half black, half white is code 188.
	checks := grey(400, 320, func(x, y int) uint8 { return uint8((x + y) % 2 * 255) })
	img := proof.Panel(recipe(lightOnDark()), placed(t, layout.Border{}), checks, 200, 160)
	require.Equal(t, uint8(188), at(img, 100, 80).G)
}

func TestPanelMixesAtThePicturesEdge(t *testing.T) {
	s := lightOnDark()
	s.Coats[0].Colour = colour.Stored{R: 255, G: 255, B: 255}
	// The picture's left edge falls into the middle of a pixel.
	img := proof.Panel(recipe(s), placed(t, layout.Border{Left: 10.5, Right: 9.5, Top: 10, Bottom: 10}), grey(500, 300, func(int, int) uint8 { return 0 }), 100, 80)
	require.Equal(t, uint8(255), at(img, 9, 40).G)
	require.Equal(t, uint8(188), at(img, 10, 40).G)
	require.Equal(t, uint8(0), at(img, 11, 40).G)
}

func TestPanelShowsTheFinish(t *testing.T) {
	r := recipe(darkOnLight())
	r.Options.Finish = coat.Gloss
	img := proof.Panel(r, placed(t, layout.Even(10)), nil, 20, 16)
	want, err := coat.Gloss.Seen(r.Stack.Coats[0].Colour.Linear())
	require.NoError(t, err)
	require.Equal(t, want.Stored(), at(img, 0, 0))
	require.Equal(t, want.Stored(), at(img, 10, 8), "no picture: the bare panel")
}

func TestPanelOfNoSize(t *testing.T) {
	for _, size := range []image.Point{{}, {X: -3, Y: 4}, {X: 5}} {
		img := proof.Panel(recipe(darkOnLight()), placed(t, layout.Even(1)), nil, size.X, size.Y)
		require.True(t, img.Rect.Empty())
	}
	proof.Panel(recipe(darkOnLight()), placed(t, layout.Even(1)), image.NewRGBA(image.Rect(0, 0, 3, 3)), 1, 1)
}
