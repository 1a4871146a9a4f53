package suggest

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// patch is an even grey with a chequered rectangle in it.
func patch(w, h int, x0, y0, x1, y1 int) *plane.Grey16 {
	g := plane.NewGrey16(w, h)
	for i := range g.Pix {
		x, y := i%w, i/w
		g.Pix[i] = 12000
		if x >= x0 && x < x1 && y >= y0 && y < y1 {
			g.Pix[i] = uint16(4000 + 30000*((x/(w/40)+y/(w/40))%2))
		}
	}
	return g
}

func crops(t require.TestingT, light *plane.Grey16, aspect float64) []Suggestion {
	out, err := Crops(context.Background(), light, aspect)
	require.NoError(t, err)
	return out
}

func alike(a, b layout.Crop) float64 {
	w := math.Min(a.X+a.W, b.X+b.W) - math.Max(a.X, b.X)
	h := math.Min(a.Y+a.H, b.Y+b.H) - math.Max(a.Y, b.Y)
	shared := math.Max(w, 0) * math.Max(h, 0)
	return shared / (a.W*a.H + b.W*b.H - shared)
}

func TestCropsGoWhereTheDetailIs(t *testing.T) {
	for _, c := range []struct {
		name           string
		x0, y0, x1, y1 int
		place          Place
		words          string
	}{
		{"upper left", 60, 60, 300, 220, Place{-1, -1}, "at the upper left"},
		{"right", 820, 280, 1100, 500, Place{1, 0}, "on the right"},
		{"bottom", 480, 560, 720, 740, Place{0, 1}, "at the bottom"},
		{"middle", 460, 300, 740, 500, Place{0, 0}, "in the middle"},
	} {
		t.Run(c.name, func(t *testing.T) {
			best := crops(t, patch(1200, 800, c.x0, c.y0, c.x1, c.y1), 1.25)[0]
			require.False(t, best.Widest)
			require.LessOrEqual(t, best.Crop.X, float64(c.x0))
			require.LessOrEqual(t, best.Crop.Y, float64(c.y0))
			require.GreaterOrEqual(t, best.Crop.X+best.Crop.W, float64(c.x1))
			require.GreaterOrEqual(t, best.Crop.Y+best.Crop.H, float64(c.y1))
			require.Greater(t, best.Detail, 0.99)
			require.Equal(t, c.place, best.Place)
			require.Contains(t, best.Why(), "closer, on the detail "+c.words)
		})
	}
}

func TestTheWidestCropMovesToTheDetail(t *testing.T) {
	light := patch(1200, 400, 900, 50, 1150, 350)
	for _, s := range crops(t, light, 1) {
		if s.Widest {
			require.GreaterOrEqual(t, s.Crop.X+s.Crop.W, 1150.0)
			require.Contains(t, s.Why(), "as much of the picture as fits, with")
			return
		}
	}
	t.Fatal("no crop is as wide as the picture allows")
}

func TestCropsOfAPictureFullOfDetail(t *testing.T) {
	best := crops(t, patch(1200, 800, 0, 0, 1200, 800), 1.5)[0]
	require.True(t, best.Widest, "what is everywhere is best seen whole")
	require.Equal(t, layout.Crop{W: 1200, H: 800}, best.Crop)
}

func TestCropsOfAPictureWithoutDetail(t *testing.T) {
	out := crops(t, patch(900, 600, 0, 0, 0, 0), 1)
	require.Len(t, out, Most)
	for i, s := range out {
		require.InDelta(t, 450, s.Crop.X+s.Crop.W/2, 5)
		require.InDelta(t, 300, s.Crop.Y+s.Crop.H/2, 5)
		require.Zero(t, s.Detail)
		require.Equal(t, i == 0, s.Widest)
	}
	require.Equal(t, "as much of the picture as fits", out[0].Why())
	require.Equal(t, "closer, on the middle of the picture", out[1].Why())
}

// Whatever the picture: each crop is one, has the shape, is unlike the others, and
// is the same again.
func TestSuggestionsAreCrops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 300).Draw(t, "w"), rapid.IntRange(1, 300).Draw(t, "h")
		aspect := math.Exp(rapid.Float64Range(-1.5, 1.5).Draw(t, "shape"))
		light := plane.NewGrey16(w, h)
		factor := rapid.IntRange(0, 50000).Draw(t, "factor")
		for i := range light.Pix {
			light.Pix[i] = uint16(i * i / w * factor)
		}
		out := crops(t, light, aspect)
		require.NotEmpty(t, out)
		require.LessOrEqual(t, len(out), Most)
		widest := 0
		for i, s := range out {
			require.NoError(t, s.Crop.Validate(w, h, aspect))
			require.GreaterOrEqual(t, s.Detail, -1e-9)
			require.LessOrEqual(t, s.Detail, 1+1e-9)
			require.NotEmpty(t, s.Why())
			if s.Widest {
				widest++
			}
			for _, o := range out[:i] {
				most := mostAlike
				if s.Widest || o.Widest {
					most = mostWidest
				}
				require.LessOrEqual(t, alike(s.Crop, o.Crop), most+1e-9)
			}
		}
		require.Equal(t, 1, widest)
		require.Equal(t, out, crops(t, light, aspect))
	})
}

func TestCropsRefuses(t *testing.T) {
	for _, c := range []struct {
		light  *plane.Grey16
		aspect float64
	}{{plane.NewGrey16(0, 5), 1}, {plane.NewGrey16(9, 9), 0}, {plane.NewGrey16(9, 9), math.NaN()}, {plane.NewGrey16(9, 9), math.Inf(1)}} {
		_, err := Crops(context.Background(), c.light, c.aspect)
		require.ErrorContains(t, err, "give no crop")
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := Crops(ended, patch(400, 300, 0, 0, 90, 90), 1)
	require.ErrorIs(t, err, context.Canceled)
}

func rose(t testing.TB) *plane.Grey16 {
	data, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "goldens", "rose.png"))
	require.NoError(t, err)
	p, err := picture.Decode(context.Background(), data, picture.Limits{})
	require.NoError(t, err)
	light, err := p.Grey(context.Background(), picture.Turn{}, colour.Stored{R: 255, G: 255, B: 255})
	require.NoError(t, err)
	return light
}

// On a photograph of a rose in the middle of a plain ground every crop holds the
// rose's heart.
func TestCropsOfAPhotograph(t *testing.T) {
	light := rose(t)
	for _, s := range crops(t, light, 1) {
		t.Logf("%v: %s", s.Crop, s.Why())
	}
	best := crops(t, light, 1)[0]
	require.Less(t, best.Crop.X, 200.0)
	require.Greater(t, best.Crop.X+best.Crop.W, 200.0)
}

func BenchmarkCrops(b *testing.B) {
	light := patch(4000, 3000, 300, 200, 1700, 1900)
	b.SetBytes(2 * 4000 * 3000)
	b.ReportAllocs()
	for b.Loop() {
		_, err := Crops(context.Background(), light, 1.25)
		require.NoError(b, err)
	}
}
