package photo_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/photo"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

func hex(t testing.TB, text string) colour.Stored {
	c, err := colour.ParseHex(text)
	require.NoError(t, err)
	return c
}

// stack is made up for these tests.
func stack(t testing.TB) coat.Stack {
	return coat.Stack{
		Name: "made up",
		Coats: []coat.Coat{
			{Name: "slate", Colour: hex(t, "#2f3136"), ThicknessUM: 25},
			{Name: "lagoon", Colour: hex(t, "#217c86"), ThicknessUM: 25},
			{Name: "amber", Colour: hex(t, "#e8ad30"), ThicknessUM: 25},
		},
		Ground: coat.Ground{Name: "chalk", Colour: hex(t, "#efece2")},
		Curve: coat.Curve{
			Points: []coat.Point{{DoseJCM2: 20}, {DoseJCM2: 45, DepthUM: 25}, {DoseJCM2: 80, DepthUM: 50}, {DoseJCM2: 125, DepthUM: 75}},
			Spread: []float64{0.15, 0.12, 0.15}, ScorchDoseJCM2: 320, ScorchColour: hex(t, "#3a2a1c"),
		},
	}
}

func machine() burn.Machine {
	return burn.Machine{
		Name: "made up", OpticalPowerW: 5, BeamAlong: 0.08, BeamAcross: 0.1, Bed: layout.Size{W: 400, H: 400},
		RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100, SkipsBlank: true,
	}
}

func powers(from, to, step float64) []float64 {
	var all []float64
	for p := from; p <= to+1e-9; p += step {
		all = append(all, math.Round(p*100)/100)
	}
	return all
}

func chart(t testing.TB, list []float64) swatch.Chart {
	s := stack(t)
	c, err := swatch.New(swatch.Request{
		Machine: machine(), Stack: &s, Scrap: layout.Size{W: 200, H: 150}, Margin: 8,
		Powers: list, Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.1},
	})
	require.NoError(t, err)
	return c
}

// scene is a photograph as makers take them: a little aslant under one lamp, two
// million pixels to keep the tests quick.
func scene(t testing.TB, c swatch.Chart) simulate.Scene {
	return simulate.Scene{
		Chart: c, Machine: machine(), Stack: stack(t), W: 1600, H: 1200,
		Uneven: 0.03, Tilt: 12, Swing: -9, FallOff: 0.35, Cast: [3]float64{1, 0.87, 0.66}, Noise: 0.01,
		Desk: colour.Linear{R: 0.35, G: 0.24, B: 0.15}, Seed: 7,
	}
}

func decode(t testing.TB, data []byte) *picture.Picture {
	pic, err := picture.Decode(context.Background(), data, picture.Limits{})
	require.NoError(t, err)
	return pic
}

func take(t testing.TB, s simulate.Scene) (simulate.Shot, *picture.Picture) {
	shot, err := s.Photo(context.Background())
	require.NoError(t, err)
	return shot, decode(t, shot.JPEG)
}

// errorsOf are the differences of readings from the true looks, and their mean in
// linear light.
func errorsOf(t testing.TB, s simulate.Scene, r swatch.Readings) (de []float64, bias colour.Linear) {
	truth, err := s.Looks(context.Background())
	require.NoError(t, err)
	n := 0.0
	for _, sw := range r.Swatches {
		if sw.LinearRGB == nil {
			continue
		}
		want := truth[sw.ID]
		de = append(de, colour.DE2000(sw.LinearRGB.Lab(), want.Lab()))
		bias = bias.Add(sw.LinearRGB.Add(want.Scale(-1)))
		n++
	}
	slices.Sort(de)
	return de, bias.Scale(1 / n)
}

func requireRecovered(t testing.TB, s simulate.Scene, res photo.Result, mean, worst float64) {
	for _, r := range res.Readings.Swatches {
		require.NotNil(t, r.LinearRGB, "%s: %s", r.ID, r.LeftOut)
	}
	de, bias := errorsOf(t, s, res.Readings)
	sum := 0.0
	for _, d := range de {
		sum += d
	}
	t.Logf("CIEDE2000 mean %.2f, worst %.2f; bias %+.4f %+.4f %+.4f", sum/float64(len(de)), de[len(de)-1], bias.R, bias.G, bias.B)
	require.Less(t, sum/float64(len(de)), mean)
	require.Less(t, de[len(de)-1], worst)
	for _, b := range []float64{bias.R, bias.G, bias.B} {
		require.Less(t, math.Abs(b), 0.008)
	}
}
