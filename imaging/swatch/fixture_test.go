package swatch_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

func machine() burn.Machine {
	return burn.Machine{
		Name: "made up", OpticalPowerW: 5, BeamAlong: 0.08, BeamAcross: 0.1, Bed: layout.Size{W: 400, H: 400},
		RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100, SkipsBlank: true,
	}
}

func stack() coat.Stack {
	return coat.Stack{
		Name: "made up",
		Coats: []coat.Coat{
			{Name: "slate", Colour: colour.Stored{R: 0x2f, G: 0x31, B: 0x36}, ThicknessUM: 25},
			{Name: "lagoon", Colour: colour.Stored{R: 0x21, G: 0x7c, B: 0x86}, ThicknessUM: 25},
			{Name: "black and gold", Colour: colour.Stored{R: 0x60, G: 0x50, B: 0x20}, ThicknessUM: 25},
		},
		Ground: coat.Ground{Name: "chalk", Colour: colour.Stored{R: 0xef, G: 0xec, B: 0xe2}},
		Curve: coat.Curve{
			Points: []coat.Point{{DoseJCM2: 20}, {DoseJCM2: 45, DepthUM: 25}, {DoseJCM2: 80, DepthUM: 50}, {DoseJCM2: 125, DepthUM: 75}},
			Spread: []float64{0.15, 0.12, 0.15},
		},
	}
}

// request is a chart of twelve powers on a scrap with room.
func request() swatch.Request {
	s := stack()
	return swatch.Request{
		Machine: machine(), Stack: &s, Scrap: layout.Size{W: 150, H: 100}, Margin: 5,
		Powers: []float64{5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60},
		Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.1},
	}
}

func newChart(t testing.TB, r swatch.Request) swatch.Chart {
	c, err := swatch.New(r)
	require.NoError(t, err)
	return c
}
