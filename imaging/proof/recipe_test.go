package proof_test

import (
	"context"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

func hex(text string) colour.Stored {
	c, err := colour.ParseHex(text)
	if err != nil {
		panic(err)
	}
	return c
}

// machine and setting are made up, of usual size.
func machine() burn.Machine {
	return burn.Machine{
		Name: "bench laser", OpticalPowerW: 5, BeamAlong: 0.08, BeamAcross: 0.10,
		Bed: layout.Size{W: 400, H: 400}, RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100,
	}
}

func setting() burn.Setting {
	return burn.Setting{PowerPercent: 40, Speed: 25, Pitch: 0.08, Passes: 1}
}

// The stacks are made up. Full dose of machine and setting is 100 J/cm2.

// darkOnLight is graphite over white: bright parts burn.
func darkOnLight() coat.Stack {
	return coat.Stack{
		Name:   "graphite on white",
		Coats:  []coat.Coat{{Name: "graphite", Colour: hex("#2b2d30"), ThicknessUM: 25}},
		Ground: coat.Ground{Name: "white ground", Colour: hex("#f2efe6")},
		Curve: coat.Curve{
			Points: []coat.Point{{DoseJCM2: 20}, {DoseJCM2: 50, DepthUM: 25}, {DoseJCM2: 90, DepthUM: 45}},
			Spread: []float64{0.15}, ScorchDoseJCM2: 400, ScorchColour: hex("#3a2a1c"),
		},
	}
}

// threeCoats is graphite over teal over cream on white.
func threeCoats() coat.Stack {
	return coat.Stack{
		Name: "three coats",
		Coats: []coat.Coat{
			{Name: "graphite", Colour: hex("#2b2d30"), ThicknessUM: 25},
			{Name: "teal", Colour: hex("#1f7a7a"), ThicknessUM: 25},
			{Name: "cream", Colour: hex("#efe3c2"), ThicknessUM: 30},
		},
		Ground: coat.Ground{Name: "white ground", Colour: hex("#f2efe6")},
		Curve: coat.Curve{
			Points: []coat.Point{{DoseJCM2: 20}, {DoseJCM2: 45, DepthUM: 25}, {DoseJCM2: 85, DepthUM: 50}, {DoseJCM2: 140, DepthUM: 80}},
			Spread: []float64{0.15, 0.14, 0.12}, ScorchDoseJCM2: 260, ScorchColour: hex("#3a2a1c"),
		},
	}
}

// lightOnDark is white over black: dark parts burn.
func lightOnDark() coat.Stack {
	s := darkOnLight()
	s.Name = "white on black"
	s.Coats[0].Name, s.Coats[0].Colour = "white", hex("#eeeeea")
	s.Ground = coat.Ground{Name: "black ground", Colour: hex("#161616")}
	s.Curve.ScorchDoseJCM2 = 0
	return s
}

// upAndDown is a light coat between two dark ones.
func upAndDown() coat.Stack {
	s := threeCoats()
	s.Name = "up and down"
	s.Coats[1].Name, s.Coats[1].Colour = "white", hex("#f0f0ec")
	s.Coats[2].Name, s.Coats[2].Colour = "blue", hex("#243a8c")
	s.Ground = coat.Ground{Name: "blue ground", Colour: hex("#243a8c")}
	return s
}

func recipe(s coat.Stack) proof.Recipe {
	return proof.Recipe{Stack: s, Machine: machine(), Setting: setting()}
}

func table(t testing.TB, r proof.Recipe) *proof.TintTable {
	t.Helper()
	table, err := proof.NewTintTable(context.Background(), r)
	require.NoError(t, err)
	return table
}

func even(w, h int, tint uint16) *plane.Grey16 {
	g := plane.NewGrey16(w, h)
	for i := range g.Pix {
		g.Pix[i] = tint
	}
	return g
}

func dots(t testing.TB, tints *plane.Grey16, o screen.Options) *plane.Bits {
	t.Helper()
	bits, err := screen.Screen(context.Background(), tints, o)
	require.NoError(t, err)
	return bits
}

// picture is tints with detail of every size, made up.
func picture(w, h int) *plane.Grey16 {
	g := plane.NewGrey16(w, h)
	for y := range h {
		row := g.Row(y)
		for x := range row {
			u, v := float64(x)/float64(w), float64(y)/float64(h)
			wave := 0.5 + 0.3*math.Sin(9*u+4*math.Sin(5*v)) + 0.2*math.Sin(90*u*v)
			row[x] = uint16(math.MaxUint16 * math.Min(1, math.Max(0, wave)))
		}
	}
	return g
}

func at(img *image.RGBA, x, y int) colour.Stored {
	c := img.RGBAAt(x, y)
	return colour.Stored{R: c.R, G: c.G, B: c.B}
}

func whole(b *plane.Bits) image.Rectangle { return image.Rect(0, 0, b.W, b.H) }
