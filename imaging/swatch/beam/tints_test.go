package beam_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/beam"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

// diffuse is a plain error diffusion after Floyd and Steinberg: the tests need some
// screen and not a particular one.
func diffuse(_ context.Context, tints *plane.Grey16) (*plane.Bits, error) {
	dots := plane.NewBits(tints.W, tints.H)
	now, next := make([]float64, tints.W+2), make([]float64, tints.W+2)
	for y := range tints.H {
		for x := range tints.W {
			v := float64(tints.Row(y)[x])/65535 + now[x+1]
			if v >= 0.5 {
				dots.Set(x, y)
				v--
			}
			now[x+2] += v * 7 / 16
			next[x] += v * 3 / 16
			next[x+1] += v * 5 / 16
			next[x+2] += v / 16
		}
		now, next = next, now
		clear(next)
	}
	return dots, nil
}

func machine() burn.Machine {
	return burn.Machine{
		Name: "made up", OpticalPowerW: 5, BeamAlong: 0.08, BeamAcross: 0.1, Bed: layout.Size{W: 400, H: 400},
		RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100, SkipsBlank: true,
	}
}

func stack() coat.Stack {
	return coat.Stack{
		Name:   "made up",
		Coats:  []coat.Coat{{Name: "slate", Colour: colour.Stored{R: 0x2f, G: 0x31, B: 0x36}, ThicknessUM: 25}},
		Ground: coat.Ground{Name: "chalk", Colour: colour.Stored{R: 0xef, G: 0xec, B: 0xe2}},
		Curve:  coat.Curve{Points: []coat.Point{{DoseJCM2: 20}, {DoseJCM2: 45, DepthUM: 25}}, Spread: []float64{0.15}},
	}
}

func TestFromTintsFindsTheBeamThatBurnedThem(t *testing.T) {
	for name, factor := range map[string]layout.MM{"as the file says": 1, "a quarter narrower": 0.75, "twice as wide": 2} {
		t.Run(name, func(t *testing.T) {
			real := machine()
			real.BeamAlong, real.BeamAcross = real.BeamAlong*factor, real.BeamAcross*factor
			s := stack()
			setting := burn.Setting{PowerPercent: 60, Speed: 25, Pitch: 0.1, Passes: 1}
			chart, err := swatch.New(swatch.Request{
				Machine: machine(), Stack: &s, Kind: swatch.Tints, Scrap: layout.Size{W: 150, H: 100}, Margin: 5,
				Powers: []float64{setting.PowerPercent}, Speeds: []layout.MMPerSecond{setting.Speed}, Pitches: []layout.MM{setting.Pitch},
			})
			require.NoError(t, err)
			truth, err := simulate.Scene{Chart: chart, Machine: real, Stack: s, Screen: diffuse}.Looks(context.Background())
			require.NoError(t, err)
			var r swatch.Readings
			for i, sw := range chart.Swatches {
				look := truth[sw.ID]
				// Looks read from a photograph are off by some percent, either way.
				look = look.Scale(1 + 0.02*math.Cos(float64(3*i)))
				r.Swatches = append(r.Swatches, swatch.Reading{ID: sw.ID, Setting: sw.Setting, OpticalPowerW: 5, Tint: sw.Tint, LinearRGB: &look})
			}
			model, err := s.Compile(coat.Options{})
			require.NoError(t, err)
			fit, err := beam.FromReadings(context.Background(), r, machine(), model, diffuse)
			require.NoError(t, err)
			t.Logf("across %.4f mm of %.4f, error %.1f %%, residual %.2f", fit.Across, real.BeamAcross, 100*fit.WidthSD, fit.ResidualLab)
			require.InEpsilon(t, float64(real.BeamAcross), float64(fit.Across), 0.05)
			require.InEpsilon(t, float64(real.BeamAlong), float64(fit.Along), 0.05)
			require.Less(t, fit.ResidualLab, 1.5)
			require.Len(t, fit.Tints, 10)
		})
	}
}

func TestFromTintsRefusesWhatTellsNothing(t *testing.T) {
	model, err := stack().Compile(coat.Options{})
	require.NoError(t, err)
	setting := burn.Setting{PowerPercent: 60, Speed: 25, Pitch: 0.1, Passes: 1}
	row := []beam.TintLook{{Tint: 0.2}, {Tint: 0.5}, {Tint: 0.8}}
	for name, tc := range map[string]struct {
		looks  []beam.TintLook
		screen swatch.Screen
		want   string
	}{
		"two tints":       {row[:2], diffuse, "read 3 or more"},
		"no screen":       {row, nil, "choose it"},
		"a solid":         {append(row[:2:2], beam.TintLook{Tint: 1}), diffuse, "tint 1 is out of range"},
		"not a number":    {append(row[:2:2], beam.TintLook{Tint: math.NaN()}), diffuse, "tint NaN"},
		"all quite black": {row, diffuse, "no beam of 0.02 to 0.8 mm"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := beam.FromTints(context.Background(), machine(), setting, model, tc.screen, tc.looks)
			require.ErrorContains(t, err, tc.want)
		})
	}
}

func TestFromTintsStopsWithItsContext(t *testing.T) {
	model, err := stack().Compile(coat.Options{})
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = beam.FromTints(ctx, machine(), burn.Setting{PowerPercent: 60, Speed: 25, Pitch: 0.1, Passes: 1}, model, diffuse,
		[]beam.TintLook{{Tint: 0.2}, {Tint: 0.5}, {Tint: 0.8}})
	require.ErrorIs(t, err, context.Canceled)
}
