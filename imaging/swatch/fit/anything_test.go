package fit

import (
	"context"
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// Whatever valid readings hold, a fit is an error or a stack that can be used.
func TestFitOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "coats")
		var colours []colour.Stored
		for range n + 1 {
			colours = append(colours, colour.Stored{R: rapid.Byte().Draw(t, "r"), G: rapid.Byte().Draw(t, "g"), B: rapid.Byte().Draw(t, "b")})
		}
		var doses, spreads []float64
		dose := rapid.Float64Range(0.01, 1000).Draw(t, "dose")
		for range n {
			doses = append(doses, dose)
			dose *= rapid.Float64Range(1.001, 3).Draw(t, "gap")
			spreads = append(spreads, rapid.Float64Range(0, 3).Draw(t, "spread"))
		}
		stack := stackOf(doses, spreads, colours)
		if rapid.Bool().Draw(t, "scorch") {
			stack.Curve.ScorchDoseJCM2 = rapid.Float64Range(0.01, 1e4).Draw(t, "scorch dose")
		}
		r := swatch.Readings{}
		if rapid.Bool().Draw(t, "machine known") {
			m := aMachine()
			m.PowerOffsetPercent = rapid.Float64Range(0, 20).Draw(t, "offset")
			r.Machine = &m
		}
		names := append(swatch.SeenNames(stack), "scorched", "mostly paint 1", "paint 1 and ground")
		for i := range rapid.IntRange(1, 12).Draw(t, "swatches") {
			s := swatch.Reading{ID: fmt.Sprint(i), OpticalPowerW: 5, Setting: burn.Setting{
				PowerPercent: rapid.Float64Range(0, 100).Draw(t, "power"),
				Speed:        layout.MMPerSecond(rapid.SampledFrom([]float64{10, 25, 60}).Draw(t, "speed")),
				Pitch:        layout.MM(rapid.SampledFrom([]float64{0.05, 0.08, 0.2}).Draw(t, "pitch")),
				Passes:       rapid.IntRange(1, 3).Draw(t, "passes"),
			}}
			switch rapid.IntRange(0, 5).Draw(t, "kind") {
			case 0:
				s.LeftOut = "torn"
			case 1:
				s.Seen = rapid.SampledFrom(names).Draw(t, "seen")
			default:
				part := rapid.Float64Range(-0.5, 4)
				if rapid.Bool().Draw(t, "plausible") {
					part = rapid.Float64Range(0, 1)
				}
				s.LinearRGB = &colour.Linear{R: part.Draw(t, "red"), G: part.Draw(t, "green"), B: part.Draw(t, "blue")}
			}
			r.Swatches = append(r.Swatches, s)
		}
		got, err := Fit(context.Background(), []swatch.Readings{r}, stack, Options{})
		if err != nil {
			require.NotContains(t, err.Error(), "NaN")
			return
		}
		require.NoError(t, got.Stack.Validate())
		m, err := got.Stack.Compile(coat.Options{})
		require.NoError(t, err)
		for i, c := range got.Coats {
			require.InEpsilon(t, c.BreakThroughJCM2, m.BreakThrough(i), 1e-9)
			require.LessOrEqual(t, c.Low, c.BreakThroughJCM2)
			require.GreaterOrEqual(t, c.High, c.BreakThroughJCM2)
		}
		_, err = json.Marshal(got)
		require.NoError(t, err)
	})
}
