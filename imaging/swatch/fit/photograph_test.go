package fit_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/fit"
	"undercoat/imaging/swatch/photo"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

// From the burned chart to the curve: a photograph of 12 million pixels as makers
// take them, of paint that is not quite the paint on the label, and a guess of the
// doses that is a third too low.
func TestFromThePhotographToTheCurve(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a few seconds")
	}
	machine := burn.Machine{
		Name: "made up", OpticalPowerW: 5, BeamAlong: 0.08, BeamAcross: 0.1, Bed: layout.Size{W: 400, H: 400},
		RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100, SkipsBlank: true,
	}
	truth := coat.Stack{
		Name: "made up",
		Coats: []coat.Coat{
			{Name: "slate", Colour: colour.Stored{R: 47, G: 49, B: 54}, ThicknessUM: 25},
			{Name: "lagoon", Colour: colour.Stored{R: 33, G: 124, B: 134}, ThicknessUM: 25},
			{Name: "amber", Colour: colour.Stored{R: 232, G: 173, B: 48}, ThicknessUM: 25},
		},
		Ground: coat.Ground{Name: "chalk", Colour: colour.Stored{R: 239, G: 236, B: 226}},
		Curve: coat.Curve{
			Points: []coat.Point{{DoseJCM2: 18}, {DoseJCM2: 36, DepthUM: 25}, {DoseJCM2: 62, DepthUM: 50}, {DoseJCM2: 100, DepthUM: 75}},
			Spread: []float64{0.12, 0.1, 0.12},
		},
	}
	guess := truth.Clone()
	guess.Coats[1].Colour = colour.Stored{R: 40, G: 118, B: 126}
	guess.Coats[2].Colour = colour.Stored{R: 240, G: 180, B: 41}
	guess.Curve.Spread = []float64{0.15, 0.15, 0.15}
	for i := range guess.Curve.Points {
		guess.Curve.Points[i].DoseJCM2 /= 1.5
	}
	var powers []float64
	for p := 4.0; p <= 64; p += 2 {
		powers = append(powers, p)
	}
	chart, err := swatch.New(swatch.Request{
		Machine: machine, Stack: &guess, Scrap: layout.Size{W: 200, H: 150}, Margin: 8,
		Powers: powers, Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.08},
	})
	require.NoError(t, err)

	for seed := range uint64(2) {
		t.Run(fmt.Sprint("paint ", seed), func(t *testing.T) {
			scene := simulate.Scene{
				Chart: chart, Machine: machine, Stack: truth, W: 4000, H: 3000, Uneven: 0.03, Tilt: 12 - 8*float64(seed), Swing: -9,
				FallOff: 0.35, Cast: [3]float64{1, 0.87, 0.66}, Noise: 0.01, Desk: colour.Linear{R: 0.35, G: 0.24, B: 0.15}, Seed: seed,
			}
			shot, err := scene.Photo(context.Background())
			require.NoError(t, err)
			pic, err := picture.Decode(context.Background(), shot.JPEG, picture.Limits{})
			require.NoError(t, err)
			read, err := photo.Read(context.Background(), pic, chart, photo.Options{Machine: &machine})
			require.NoError(t, err)
			got, err := fit.Fit(context.Background(), []swatch.Readings{read.Readings}, guess, fit.Options{})
			require.NoError(t, err)
			t.Log(got.Status(), got.ResidualDE00)
			for i, c := range got.Coats {
				want := truth.Curve.Points[i+1].DoseJCM2
				t.Logf("%s: %.1f J/cm2 of %.0f, 95 %% %.1f to %.1f, spread %.3f, %v of %v", c.Name, c.BreakThroughJCM2, want, c.Low, c.High, c.Spread, c.Colour, truth.Coats[i].Colour)
				require.InEpsilon(t, want, c.BreakThroughJCM2, 0.05)
				require.Less(t, colour.DE2000(c.Colour.Linear().Lab(), truth.Coats[i].Colour.Linear().Lab()), 2.0)
			}
			require.Less(t, got.ResidualDE00, 2.5)
			require.NotEqual(t, fit.Poor, got.Grade)
		})
	}
}
