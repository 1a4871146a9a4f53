package simulate_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

func scene(t *testing.T, beam layout.MM) simulate.Scene {
	m := burn.Machine{
		Name: "made up", OpticalPowerW: 5, BeamAlong: beam, BeamAcross: beam, Bed: layout.Size{W: 400, H: 400},
		RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100,
	}
	s := coat.Stack{
		Name:   "made up",
		Coats:  []coat.Coat{{Name: "slate", Colour: colour.Stored{R: 47, G: 49, B: 54}, ThicknessUM: 25}},
		Ground: coat.Ground{Name: "chalk", Colour: colour.Stored{R: 239, G: 236, B: 226}},
		Curve:  coat.Curve{Points: []coat.Point{{DoseJCM2: 20}, {DoseJCM2: 45, DepthUM: 25}}, Spread: []float64{0.15}},
	}
	c, err := swatch.New(swatch.Request{
		Machine: m, Stack: &s, Scrap: layout.Size{W: 100, H: 80}, Margin: 5,
		Powers: []float64{5, 10, 20, 22.5, 25, 40}, Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.1},
	})
	require.NoError(t, err)
	return simulate.Scene{Chart: c, Machine: m, Stack: s, W: 600, H: 450, Seed: 3}
}

// Under a beam of three pitches the field is even, so that its mean look is the
// look of its mean dose; under a narrow one it is not.
func TestLooksAreMeansOverTheDoseField(t *testing.T) {
	wide, narrow := scene(t, 0.3), scene(t, 0.06)
	model, err := wide.Stack.Compile(coat.Options{})
	require.NoError(t, err)
	even, err := wide.Looks(context.Background())
	require.NoError(t, err)
	ripple, err := narrow.Looks(context.Background())
	require.NoError(t, err)
	furthest := 0.0
	for _, sw := range wide.Chart.Swatches {
		want := model.Look(burn.Dose(wide.Machine, sw.Setting, 1))
		require.InDelta(t, want.G, even[sw.ID].G, 0.003, sw.ID)
		furthest = max(furthest, colour.DE2000(want.Lab(), ripple[sw.ID].Lab()))
	}
	require.Greater(t, furthest, 5.0)
}

func TestPhotoIsTheSameEveryTime(t *testing.T) {
	s := scene(t, 0.1)
	s.Noise, s.Uneven, s.Tilt = 0.01, 0.03, 20
	one, err := s.Photo(context.Background())
	require.NoError(t, err)
	two, err := s.Photo(context.Background())
	require.NoError(t, err)
	require.Equal(t, one.JPEG, two.JPEG)
}

func TestPhotoShowsSwatchesWhereItSays(t *testing.T) {
	s := scene(t, 0.1)
	s.Tilt, s.Swing, s.Roll, s.Exposure = 15, 10, 30, 1
	shot, err := s.Photo(context.Background())
	require.NoError(t, err)
	looks, err := s.Looks(context.Background())
	require.NoError(t, err)
	for _, sw := range s.Chart.Swatches {
		p := shot.ToPixel(sw.Centre)
		got := shot.Image.RGBAAt(int(p.X), int(p.Y))
		want := looks[sw.ID].Stored()
		require.InDelta(t, want.R, got.R, 2, sw.ID)
		require.InDelta(t, want.B, got.B, 2, sw.ID)
	}
}

func TestLightFallsOffAsAsked(t *testing.T) {
	s := scene(t, 0.1)
	s.Desk, s.FallOff, s.Exposure = colour.Linear{R: 0.8, G: 0.8, B: 0.8}, 0.35, 1
	shot, err := s.Photo(context.Background())
	require.NoError(t, err)
	corner := colour.DecodeByte(shot.Image.RGBAAt(s.W-1, s.H-1).G)
	require.InDelta(t, 0.8*0.65, corner, 0.01)
}

// A swatch of thinner paint looks like one of more dose, and stays even in itself.
func TestPatchyPaintMovesWholeSwatches(t *testing.T) {
	s := scene(t, 0.3)
	s.Exposure = 1
	even, err := s.Photo(context.Background())
	require.NoError(t, err)
	s.Patchy = 0.1
	patchy, err := s.Photo(context.Background())
	require.NoError(t, err)
	moved := 0
	for _, sw := range s.Chart.Swatches {
		p := patchy.ToPixel(sw.Centre)
		x, y := int(p.X), int(p.Y)
		if patchy.Image.RGBAAt(x, y) != even.Image.RGBAAt(x, y) {
			moved++
		}
		require.Equal(t, patchy.Image.RGBAAt(x, y), patchy.Image.RGBAAt(x+4, y+3), sw.ID)
	}
	require.GreaterOrEqual(t, moved, 3) // those in the midst of the break-through
}
