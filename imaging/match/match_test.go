package match_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/match"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
)

var demoTable *proof.TintTable

// table is that of the demo's stack and machine at a full dose of 150 J/cm2.
func table(t testing.TB) *proof.TintTable {
	t.Helper()
	if demoTable != nil {
		return demoTable
	}
	data, ok := assets.Stack(assets.DemoStack)
	require.True(t, ok)
	stack, err := coat.ReadStack(data)
	require.NoError(t, err)
	data, ok = assets.Machine(assets.DemoMachine)
	require.True(t, ok)
	machine, err := burn.ReadMachine(data)
	require.NoError(t, err)
	tints, err := proof.NewTintTable(t.Context(), proof.Recipe{
		Stack: stack, Machine: machine,
		Setting: burn.Setting{PowerPercent: 60, Speed: 50, Pitch: 0.08, Passes: 1},
		Screen:  screen.Options{Kind: screen.FloydSteinberg},
	})
	require.NoError(t, err)
	demoTable = tints
	return tints
}

func even(w, h int, c colour.Linear) *plane.RGB16 {
	p := plane.NewRGB16(w, h)
	for i := range w * h {
		for k, v := range []float64{c.R, c.G, c.B} {
			p.Pix[3*i+k] = uint16(math.Round(v * math.MaxUint16))
		}
	}
	return p
}

// mean is the light that a choice gives on average.
func mean(c *match.Choice, looks []colour.Linear) colour.Linear {
	var sum colour.Linear
	for _, v := range c.Pix {
		sum = sum.Add(looks[v])
	}
	return sum.Scale(1 / float64(len(c.Pix)))
}

func TestALookThatTheStackHasIsChosenEverywhere(t *testing.T) {
	looks, err := match.PowerLooks(t.Context(), table(t))
	require.NoError(t, err)
	for _, i := range []int{0, 40, len(looks) - 1} {
		c, err := match.Diffuse(t.Context(), even(32, 32, looks[i]), looks)
		require.NoError(t, err)
		require.Less(t, colour.DE2000(looks[i].Lab(), mean(c, looks).Lab()), 0.5, "look %d", i)
	}
}

func TestMixturesComeOutInLinearLight(t *testing.T) {
	looks, steps, err := match.StepLooks(t.Context(), table(t), false)
	require.NoError(t, err)
	require.Len(t, steps, 3)
	for a := range looks {
		for b := range a {
			want := colour.Mix(looks[a], looks[b], 0.3)
			c, err := match.Diffuse(t.Context(), even(128, 128, want), looks)
			require.NoError(t, err)
			require.Less(t, colour.DE2000(want.Lab(), mean(c, looks).Lab()), 1.0, "%d with %d", a, b)
		}
	}
}

func TestStepsAreDisjointOrNested(t *testing.T) {
	c := &match.Choice{W: 4, H: 1, Pix: []uint8{0, 1, 2, 3}}
	burned := func(all []*plane.Bits) (out [][]bool) {
		for _, b := range all {
			var row []bool
			for x := range 4 {
				row = append(row, b.At(x, 0))
			}
			out = append(out, row)
		}
		return out
	}
	require.Equal(t, [][]bool{
		{false, true, false, false}, {false, false, true, false}, {false, false, false, true},
	}, burned(match.Steps(c, 3, false)))
	require.Equal(t, [][]bool{
		{false, true, true, true}, {false, false, true, true}, {false, false, false, true},
	}, burned(match.Steps(c, 3, true)))
}

func TestNestedStepsAddUpToTheDoseOfDisjointOnes(t *testing.T) {
	_, apart, err := match.StepLooks(t.Context(), table(t), false)
	require.NoError(t, err)
	_, nested, err := match.StepLooks(t.Context(), table(t), true)
	require.NoError(t, err)
	require.Len(t, nested, len(apart))
	sum := 0.0
	for i, s := range nested {
		sum += s.DoseJCM2
		require.InDelta(t, apart[i].DoseJCM2, sum, 1e-9)
		require.Positive(t, s.PowerPercent)
		require.LessOrEqual(t, s.PowerPercent, 100.0)
	}
}

func TestEachStepLaysItsLayerBare(t *testing.T) {
	tints := table(t)
	_, steps, err := match.StepLooks(t.Context(), tints, false)
	require.NoError(t, err)
	for _, s := range steps {
		r := tints.Recipe()
		r.Setting.PowerPercent = s.PowerPercent
		at, err := tints.With(t.Context(), r)
		require.NoError(t, err)
		require.Greater(t, at.Coverage(math.MaxUint16)[s.Layer], 0.5, "layer %d at %.1f %%", s.Layer, s.PowerPercent)
	}
}

func TestPowersSpanTheScale(t *testing.T) {
	looks, err := match.PowerLooks(t.Context(), table(t))
	require.NoError(t, err)
	p := match.Powers(&match.Choice{W: 2, H: 1, Pix: []uint8{0, uint8(len(looks) - 1)}})
	require.Equal(t, []uint16{0, math.MaxUint16}, p.Pix)
}

func TestDiffuseRefusesAndStops(t *testing.T) {
	_, err := match.Diffuse(t.Context(), plane.NewRGB16(2, 2), []colour.Linear{{}})
	require.ErrorContains(t, err, "1 looks to choose from")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = match.Diffuse(ctx, plane.NewRGB16(2, 2), make([]colour.Linear, 2))
	require.ErrorIs(t, err, context.Canceled)
	for _, size := range [][2]int{{0, 0}, {1, 1}, {7, 1}, {1, 7}} {
		c, err := match.Diffuse(t.Context(), plane.NewRGB16(size[0], size[1]), make([]colour.Linear, 2))
		require.NoError(t, err)
		require.Len(t, c.Pix, size[0]*size[1])
	}
}

func BenchmarkDiffuse(b *testing.B) {
	looks, err := match.PowerLooks(b.Context(), table(b))
	require.NoError(b, err)
	p := plane.NewRGB16(3132, 3132)
	for i := range p.Pix {
		p.Pix[i] = uint16(i * 40503)
	}
	b.SetBytes(int64(p.W * p.H))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := match.Diffuse(b.Context(), p, looks); err != nil {
			b.Fatal(err)
		}
	}
}
