package picture

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// Source: OpenCV 4.6.0, ximgproc.guidedFilter in 32-bit floats; see the README beside
// noise.csv. Within twice the radius of the edge OpenCV mirrors the picture where
// this program repeats its edge. What lies between is the 32-bit floats' and this program's 16-bit light.
func TestNoiseAgreesWithAnotherLibrary(t *testing.T) {
	out := applied(t, Tone{Noise: Noise{Strength: 4, Radius: 0.25}}, toneScene(64, 48, 1), 10)
	most, mean := apart(toneGolden(t, "noise.csv", 64, 48), out, 4, lstarOf)
	t.Logf("largest difference %.4f, mean %.5f of L*", most, mean)
	require.LessOrEqual(t, most, 0.005)
	require.LessOrEqual(t, mean, 0.001)
}

// Grain of 1 L* in even areas nearly goes; an edge of 30 L* between them stays
// where it is and keeps nine tenths of its height over two pixels each side.
func TestNoiseTakesGrainAndLeavesEdges(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	light := lightFrom(160, 60, func(x, _ int) uint16 {
		return lightOf((40 + 30*float64(x/80) + random.NormFloat64()) * perLStar)
	})
	out := applied(t, Tone{Noise: Noise{Strength: 4, Radius: 0.4}}, light, 10)
	grain := func(g *plane.Grey16, x0, x1 int) (mean, deviation float64) {
		n, sum, squares := 0.0, 0.0, 0.0
		for y := range g.H {
			for _, v := range g.Row(y)[x0:x1] {
				l := lstarOf(float64(v))
				n, sum, squares = n+1, sum+l, squares+l*l
			}
		}
		return sum / n, math.Sqrt(squares/n - sum*sum/n/n)
	}
	for _, half := range [][2]int{{10, 65}, {95, 150}} {
		before, grainBefore := grain(light, half[0], half[1])
		after, grainAfter := grain(out, half[0], half[1])
		require.InDelta(t, before, after, 0.1)
		require.Less(t, grainAfter, grainBefore/5)
	}
	dark, _ := grain(out, 78, 80)
	bright, _ := grain(out, 80, 82)
	require.Greater(t, bright-dark, 27.0)
}

func TestNoiseFinerThanAPixelIsNone(t *testing.T) {
	light := toneScene(64, 48, 1)
	require.Equal(t, light.Pix, applied(t, Tone{Noise: Noise{Strength: 10, Radius: 0.1}}, light, 5).Pix)
}

// A window's mean against the plain sum, at the edge and inside, for whole and
// broken windows.
func TestSliderMeansArePlainMeans(t *testing.T) {
	const w, h, channels = 9, 7, 2
	random := rand.New(rand.NewPCG(3, 4))
	values := make([]int64, w*h*channels)
	for i := range values {
		values[i] = random.Int64N(1000)
	}
	value := func(x, y, c int) float64 {
		x, y = min(max(x, 0), w-1), min(max(y, 0), h-1)
		return float64(values[(y*w+x)*channels+c])
	}
	for _, side := range []float64{0.2, 1, 1.5, 3, 4.25, 7, 30} {
		win := windowOf(side)
		require.InDelta(t, math.Max(side, 1), win.side(), 1e-12)
		share := func(d int) float64 {
			switch d = max(d, -d); {
			case d <= win.reach:
				return 1
			case d == win.reach+1:
				return win.edge
			}
			return 0
		}
		for _, begin := range []int{0, 3, h - 1} {
			s := newSlider(win, w, h, channels, func(y int, into []int64) { copy(into, values[y*w*channels:]) })
			got := make([]float64, w*channels)
			for y := begin; y < h; y++ {
				s.mean(y, got)
				for i := range got {
					want := 0.0
					for dy := -win.reach - 1; dy <= win.reach+1; dy++ {
						for dx := -win.reach - 1; dx <= win.reach+1; dx++ {
							want += share(dx) * share(dy) * value(i/channels+dx, y+dy, i%channels)
						}
					}
					require.InDelta(t, want/(win.side()*win.side()), got[i], 1e-9, "side %g, row %d, value %d", side, y, i)
				}
			}
		}
	}
}

// Every light has a lightness of its own and comes back from it.
func TestLightnessAndBack(t *testing.T) {
	lightness := lightnesses()
	for v, l := range lightness {
		require.EqualValues(t, v, lightOf(float64(l)))
		require.InDelta(t, lstarOf(float64(v)), float64(l)/perLStar, 0.51/perLStar)
	}
	require.EqualValues(t, lightest, lightness[full])
	require.Zero(t, lightOf(-5))
	require.EqualValues(t, full, lightOf(2*lightest))
}

func TestNoiseRefuses(t *testing.T) {
	for _, c := range []struct {
		noise Noise
		want  string
	}{
		{Noise{Strength: 21, Radius: 1}, "noise strength 21 is outside 0 to 20"},
		{Noise{Strength: math.NaN(), Radius: 1}, "noise strength NaN"},
		{Noise{Strength: 1}, "noise radius 0 mm is outside 0.05 to 3 mm"},
		{Noise{Strength: 1, Radius: layout.MM(math.Inf(1))}, "noise radius +Inf mm"},
	} {
		require.ErrorContains(t, Tone{Noise: c.noise}.Validate(), c.want)
	}
}
