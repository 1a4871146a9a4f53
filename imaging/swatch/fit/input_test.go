package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
)

// threeCoats is a plain stack, dark over bright, that a chart reads well.
func threeCoats() coat.Stack {
	return stackOf([]float64{30, 55, 95}, []float64{0.12, 0.12, 0.12},
		[]colour.Stored{{R: 43, G: 45, B: 48}, {R: 31, G: 122, B: 128}, {R: 240, G: 180, B: 41}, {R: 242, G: 239, B: 230}})
}

func TestFitRefusesWhatNoChartCanBe(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	w := newWorld(t, threeCoats(), aMachine())
	good := func() swatch.Readings {
		return w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, powers(4, 60, 4)...)...)
	}
	for _, c := range []struct {
		name string
		make func() []swatch.Readings
		want string // part of the sentence
	}{
		{"nothing", func() []swatch.Readings { return nil }, "no readings are given"},
		{"two swatches", func() []swatch.Readings {
			r := good()
			r.Swatches = r.Swatches[:2]
			return []swatch.Readings{r}
		}, "2 swatches can be used and a fit needs at least 3"},
		{"all but two unreadable", func() []swatch.Readings {
			r := good()
			for i := 2; i < len(r.Swatches); i++ {
				r.Swatches[i].LinearRGB, r.Swatches[i].LeftOut = nil, "in shadow"
			}
			return []swatch.Readings{r}
		}, "(13 could not be read)"},
		{"nothing burned", func() []swatch.Readings {
			return []swatch.Readings{w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, powers(1, 4, 0.5)...)...)}
		}, "nothing burned"},
		{"one colour", func() []swatch.Readings {
			r := good()
			for i := range r.Swatches {
				r.Swatches[i].LinearRGB = &colour.Linear{R: 0.5, G: 0.5, B: 0.5}
			}
			return []swatch.Readings{r}
		}, "look the same"},
		{"one dose", func() []swatch.Readings {
			r := good()
			for i := range r.Swatches {
				r.Swatches[i].Setting.PowerPercent = 20
			}
			return []swatch.Readings{r}
		}, "same dose"},
		{"two machines unnamed", func() []swatch.Readings {
			a, b := good(), good()
			a.Machine, b.Machine = nil, nil
			for i := range b.Swatches {
				b.Swatches[i].OpticalPowerW = 10
			}
			return []swatch.Readings{a, b}
		}, "mix machines of 5 W and 10 W"},
		{"light and machine at odds", func() []swatch.Readings {
			r := good()
			r.Swatches[3].OpticalPowerW = 10
			return []swatch.Readings{r}
		}, "swatch A4 was burned with 10 W"},
		{"not finite", func() []swatch.Readings {
			r := good()
			r.Swatches[3].LinearRGB.G = math.NaN()
			return []swatch.Readings{r}
		}, "linear_rgb[1]"},
		{"power not finite", func() []swatch.Readings {
			r := good()
			r.Swatches[3].Setting.PowerPercent = math.Inf(1)
			return []swatch.Readings{r}
		}, "power_percent"},
		{"powers shuffled", func() []swatch.Readings {
			r := good()
			for i := range r.Swatches {
				j := (i * 7) % len(r.Swatches)
				r.Swatches[i].Setting, r.Swatches[j].Setting = r.Swatches[j].Setting, r.Swatches[i].Setting
			}
			return []swatch.Readings{r}
		}, "do not fit this stack"},
		{"unknown word", func() []swatch.Readings {
			r := good()
			r.Swatches[3].LinearRGB, r.Swatches[3].Seen = nil, "puce"
			return []swatch.Readings{r}
		}, `"puce"`},
		{"words at odds with the dose", func() []swatch.Readings {
			r := good()
			for i := range r.Swatches {
				r.Swatches[i].LinearRGB = nil
				r.Swatches[i].Seen = []string{"ground", "paint 1", "paint 3", "paint 2"}[i%4]
			}
			return []swatch.Readings{r}
		}, "words do not fit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Fit(context.Background(), c.make(), w.stack, Options{})
			require.ErrorContains(t, err, c.want)
			require.NotContains(t, err.Error(), "\n")
			require.False(t, strings.HasSuffix(err.Error(), "."))
		})
	}
}

func TestFitRefusesStackAndOptionsOutOfRange(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	w := newWorld(t, threeCoats(), aMachine())
	r := []swatch.Readings{w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, powers(4, 60, 4)...)...)}

	bad := threeCoats()
	bad.Coats[1].ThicknessUM = math.NaN()
	_, err := Fit(context.Background(), r, bad, Options{})
	require.ErrorContains(t, err, "coats[1].thickness_um")

	_, err = Fit(context.Background(), r, w.stack, Options{Draws: -2})
	require.ErrorContains(t, err, "draws -2 is out of range")
	_, err = Fit(context.Background(), r, w.stack, Options{Next: 51})
	require.ErrorContains(t, err, "next 51 is out of range")
	m := aMachine()
	m.OpticalPowerW = math.NaN()
	_, err = Fit(context.Background(), r, w.stack, Options{Machine: &m})
	require.ErrorContains(t, err, "optical_power_w")
}

func TestFitStopsWhenAsked(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	w := newWorld(t, threeCoats(), aMachine())
	r := []swatch.Readings{w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, powers(4, 60, 4)...)...)}
	ctx, cancel := context.WithCancel(context.Background())
	_, err := Fit(ctx, r, w.stack, Options{Progress: func(f float64) {
		if f < 0.5 {
			cancel()
		}
	}})
	require.ErrorIs(t, err, context.Canceled)
}
