package fit

import (
	"context"
	"errors"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/photo"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

// From burned charts through a maker's camera to the curve: uneven paint, beams from
// one pitch wide to two, tilts to 25 degrees, light that falls off by up to 35 %, a
// cast, the sensor's noise, JPEG at quality 85. The labels are off by CIEDE2000 3, and
// a white paper lies beside the chart; where none does, the top coat's label is true.
func TestStudyOfPhotographs(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a second a photograph")
	}
	var s study
	refused := 0
	worlds := worldsOf(t, 4)
	for _, seed := range worlds {
		random := rand.New(rand.NewPCG(seed, 71))
		w := anyWorld(t, random, 2+int(seed%3))
		guess := w.guess(random)
		paper := seed%2 == 0
		if !paper {
			guess.Coats[0].Colour = w.stack.Coats[0].Colour
		}
		read, found := w.photographed(t, random, guess, seed, paper)
		if !found {
			refused++
			t.Logf("world %d: the corners had to be pointed at", seed)
		}
		got, err := Fit(context.Background(), []swatch.Readings{read.Readings}, guess, Options{})
		require.NoError(t, err, "world %d", seed)
		s.add(t, w, got)
	}
	t.Logf("corners that had to be pointed at: %d of %d photographs", refused, len(worlds))
	s.judge(t)
	require.LessOrEqual(t, float64(refused), 0.02*float64(len(worlds)))
}

// photographed burns, photographs and reads a chart. Where its marks are not found,
// somebody points at them, a few pixels off.
func (w *world) photographed(t testing.TB, random *rand.Rand, guess coat.Stack, seed uint64, paper bool) (res photo.Result, found bool) {
	t.Helper()
	scene, o := w.scene(t, random, guess, seed, paper)
	shot, err := scene.Photo(context.Background())
	require.NoError(t, err)
	pic, err := picture.Decode(context.Background(), shot.JPEG, picture.Limits{})
	require.NoError(t, err)
	res, err = photo.Read(context.Background(), pic, scene.Chart, o)
	if found = !errors.Is(err, photo.ErrNoChart); !found {
		o.Corners = &shot.Corners
		for i := range o.Corners {
			o.Corners[i].X += 2 * random.NormFloat64()
			o.Corners[i].Y += 2 * random.NormFloat64()
		}
		res, err = photo.Read(context.Background(), pic, scene.Chart, o)
	}
	require.NoError(t, err, "world %d", seed)
	return res, found
}

// scene is a chart of this world before a maker's camera.
func (w *world) scene(t testing.TB, random *rand.Rand, guess coat.Stack, seed uint64, paper bool) (simulate.Scene, photo.Options) {
	t.Helper()
	chart, err := swatch.New(swatch.Request{
		Machine: w.machine, Stack: &guess, Scrap: layout.Size{W: 130, H: 100}, Margin: 6,
		Powers: chartPowers(), Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.08},
	})
	require.NoError(t, err)
	within := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	// The camera's tilt, shared out over two axes.
	tilt, way := within(0, 25), within(0, 2*math.Pi)
	s := simulate.Scene{
		Chart: chart, Machine: w.machine, Stack: w.stack, W: 2400, H: 1800, Fill: within(0.5, 0.6), Seed: seed,
		Uneven: within(0.01, 0.04), Patchy: within(0.002, 0.01),
		Tilt: tilt * math.Cos(way), Swing: tilt * math.Sin(way), Roll: within(-10, 10),
		FallOff: within(0, 0.35), Cast: [3]float64{within(0.65, 1), within(0.8, 1), within(0.65, 1)},
		Noise: within(0.005, 0.015), Exposure: within(0.75, 0.95), Quality: 85,
		Desk: colour.Linear{R: within(0.02, 0.6), G: within(0.02, 0.6), B: within(0.02, 0.6)},
	}
	o := photo.Options{Machine: &w.machine}
	if paper {
		// The panel reaches 8 mm beyond the chart; the paper touches it, but for the roll.
		edge := s.ToPixel(layout.Point{Y: chart.Size.H/2 + 8})
		x, y := int(edge.X), int(edge.Y)-25
		s.Paper = image.Rect(x-70, y-70, x+70, y)
		require.True(t, s.Paper.In(image.Rect(0, 0, s.W, s.H)), "%v", s.Paper)
		inside := s.Paper.Inset(15)
		o.White = &inside
	}
	return s, o
}
