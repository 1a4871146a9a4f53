package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
)

// The fit's model must be the program's: same look for the same stack and setting.
func TestModelIsThatOfTheProgram(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for n := 1; n <= 5; n++ {
		w := anyWorld(t, random, n)
		w.stack.Curve.ScorchDoseJCM2 = w.doses[n-1] * 1.3
		w.stack.Curve.ScorchColour = colour.Stored{R: 40, G: 20, B: 10}
		w = newWorld(t, w.stack, w.machine)
		r := w.read(t, random, 0, 0, settings(25, 0.08, 1, powers(2, 98, 4)...)...)
		in, err := gather(context.Background(), []swatch.Readings{r}, w.stack, Options{})
		require.NoError(t, err)
		p, x, err := in.problem(parameters{coats: n, scorch: true})
		require.NoError(t, err)
		for i := range n {
			x[p.spread(i)] = math.Log(w.stack.Curve.Spread[i])
		}
		l := p.layers(x)
		for i := range p.samples {
			s := &p.samples[i]
			want, _ := w.look(t, s.setting)
			got := p.show(x, &l, s, p.shares, nil)
			require.InDelta(t, want.R, got[0], 1e-5)
			require.InDelta(t, want.G, got[1], 1e-5)
			require.InDelta(t, want.B, got[2], 1e-5)
			sum := 0.0
			for _, share := range p.shares {
				require.GreaterOrEqual(t, share, 0.0)
				sum += share
			}
			require.InDelta(t, 1, sum, 1e-12)
		}
	}
}

// Every slope must be what differences say, for all parameters at once.
func TestSlopesAreExact(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 1))
	w := anyWorld(t, random, 3)
	all := append(settings(25, 0.08, 1, powers(4, 90, 7)...), settings(50, 0.1, 3, powers(10, 60, 10)...)...)
	r := w.read(t, random, 1, 2, all...)
	for i := range r.Swatches {
		if i%3 == 0 {
			r.Swatches[i].LinearRGB, r.Swatches[i].Seen = nil, []string{"paint 1", "paint 1 and paint 2", "mostly paint 3", "ground", "scorched"}[i/3%5]
		}
	}
	in, err := gather(context.Background(), []swatch.Readings{r}, w.stack, Options{})
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		p    parameters
		loss loss
	}{
		{"all of them", parameters{3, true, true, true, true}, huber},
		{"letting go", parameters{3, true, true, true, true}, tukey},
		{"coats and eye alone", parameters{3, false, false, false, true}, huber},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, x, err := in.problem(c.p)
			require.NoError(t, err)
			p.loss, p.noise = c.loss, 2
			for k := range x {
				x[k] += 0.05 * random.NormFloat64()
			}
			if c.p.offset {
				x[p.offsetAt()] = 2
			}
			p.hold(x)
			n := p.count()
			normal, half := mat.NewSymDense(n, nil), make([]float64, n)
			require.InDelta(t, p.at(x), p.slope(x, normal, half), 1e-9)
			for k := range x {
				h := 1e-5
				y := append([]float64(nil), x...)
				y[k] = x[k] + h
				up := p.at(y)
				y[k] = x[k] - h
				want := (up - p.at(y)) / (4 * h) // half of the gradient
				require.InDelta(t, want, half[k], 1e-4*(1+math.Abs(want)), "parameter %d", k)
			}
		})
	}
}
