package photo_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/beam"
	"undercoat/imaging/swatch/photo"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

// oneCoat is the made-up stack with the first coat straight on the ground.
func oneCoat(t testing.TB) coat.Stack {
	st := stack(t)
	st.Coats = st.Coats[:1]
	st.Curve.Points, st.Curve.Spread, st.Curve.ScorchDoseJCM2 = st.Curve.Points[:2], st.Curve.Spread[:1], 0
	return st
}

// lineScene is a photograph of some two million pixels of a chart of small swatches,
// 28 pixels to a millimetre where it fills the frame. Beams as wide as those of these
// tests stand for half and a third of them before a telephone's full sensor.
func lineScene(t testing.TB, st coat.Stack, across layout.MM) simulate.LineScene {
	m := machine()
	m.BeamAcross = across
	c, err := swatch.New(swatch.Request{
		Machine: m, Stack: &st, Kind: swatch.Lines, Scrap: layout.Size{W: 120, H: 90}, Margin: 5, Side: 5,
		Powers: powers(10, 100, 10), Speeds: []layout.MMPerSecond{12}, Pitches: []layout.MM{0.1},
	})
	require.NoError(t, err)
	return simulate.LineScene{Scene: simulate.Scene{
		Chart: c, Machine: m, Stack: st, W: 1800, H: 1350, Fill: 0.8,
		Uneven: 0.03, Tilt: 12, Swing: -9, FallOff: 0.35, Cast: [3]float64{1, 0.87, 0.66}, Noise: 0.01, Seed: 7,
	}, Soft: 0.8}
}

func readLines(t testing.TB, s simulate.LineScene, o photo.Options) (photo.LineResult, error) {
	shot, err := s.Photo(context.Background())
	require.NoError(t, err)
	return photo.ReadLines(context.Background(), decode(t, shot.JPEG), s.Chart, o)
}

// breakThrough is the dose in J/cm2 at which half of the top coat has gone.
func breakThrough(t testing.TB, st coat.Stack) float64 {
	model, err := st.Compile(coat.Options{})
	require.NoError(t, err)
	return model.BreakThrough(0)
}

// Through one coat, widths, beam and threshold come back whatever way the photograph
// was taken: four seeds, each with a tilt, a swing and a roll, a beam, a blur and noise
// of its own.
func TestReadLinesRecoversTheBeam(t *testing.T) {
	for seed := range uint64(4) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(seed, 11))
			within := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
			s := lineScene(t, oneCoat(t), layout.MM(within(0.17, 0.32)))
			s.Seed, s.Fill = seed, within(0.68, 0.74)
			s.Tilt, s.Swing, s.Roll = within(-20, 20), within(-20, 20), within(-6, 6)
			s.Soft, s.Noise, s.FallOff = within(0.5, 1), within(0.003, 0.015), within(0, 0.35)
			res, err := readLines(t, s, photo.Options{})
			require.NoError(t, err)
			require.True(t, res.Found)
			threshold := breakThrough(t, s.Stack)
			worst := 0.0
			for i, r := range res.Readings.Swatches {
				if !r.IsLine() {
					continue
				}
				want := s.Width(s.Chart.Swatches[i], threshold)
				worst = max(worst, math.Abs(float64(r.Width/want)-1))
				require.Less(t, float64(r.WidthScatter), 0.02)
			}
			fit, err := beam.FromLineReadings(res.Readings, nil)
			require.NoError(t, err)
			want := s.ThresholdPower(s.Chart.Swatches[0], threshold)
			t.Logf("%.1f pixels to a mm, blur %.2f pixels; %d lines, worst width off by %.1f %%; beam %.4f read as %.4f (%+.2f %%, error said %.2f %%); threshold %.2f %% read as %.2f (%+.1f %%)",
				res.PerMM, float64(res.Soft)*res.PerMM, fit.Lines, 100*worst, float64(s.Machine.BeamAcross), float64(fit.Width),
				100*(float64(fit.Width/s.Machine.BeamAcross)-1), 100*float64(fit.WidthSD/fit.Width), want, fit.ThresholdPower(), 100*(fit.ThresholdPower()/want-1))
			require.GreaterOrEqual(t, fit.Lines, 5)
			require.Less(t, worst, 0.08)
			require.InEpsilon(t, float64(s.Machine.BeamAcross), float64(fit.Width), 0.03)
			require.InEpsilon(t, want, fit.ThresholdPower(), 0.05)
		})
	}
}

// Through three coats and scorch the edge is no longer one coat's; the beam still
// comes back.
func TestReadLinesThroughSeveralCoats(t *testing.T) {
	for _, across := range []layout.MM{0.15, 0.3} {
		s := lineScene(t, stack(t), across)
		res, err := readLines(t, s, photo.Options{})
		require.NoError(t, err)
		fit, err := beam.FromLineReadings(res.Readings, nil)
		require.NoError(t, err)
		t.Logf("beam %.3f read as %.4f, error said %.4f", float64(across), float64(fit.Width), float64(fit.WidthSD))
		require.InEpsilon(t, float64(across), float64(fit.Width), 0.08)
		for _, r := range res.Readings.Swatches {
			if across == 0.15 && r.Setting.PowerPercent == 100 {
				// A scorched middle would draw the edges inwards.
				require.Contains(t, r.LeftOut, "changed again in its middle, scorched")
			}
		}
	}
}

// Too coarse a photograph says so, and how near to go; one much too coarse is refused.
func TestReadLinesOfACoarsePhotograph(t *testing.T) {
	s := lineScene(t, oneCoat(t), 0.1)
	res, err := readLines(t, s, photo.Options{})
	require.NoError(t, err)
	require.Len(t, res.Cautions, 1)
	require.Regexp(t, `the photograph is coarse for these lines, with 29 pixels to a millimetre .* go nearer .* a millimetre takes \d+ pixels or more`, res.Cautions[0])
	fit, err := beam.FromLineReadings(res.Readings, nil)
	require.NoError(t, err)
	t.Logf("lines of three pixels: beam 0.1 read as %.4f", float64(fit.Width))
	require.InEpsilon(t, 0.1, float64(fit.Width), 0.08)
	narrow := 0
	for _, r := range res.Readings.Swatches {
		if r.Setting.PowerPercent == 10 {
			require.Contains(t, r.LeftOut, "too faint")
			narrow++
		}
	}
	require.Equal(t, 1, narrow)

	s.W, s.H = 800, 600
	_, err = readLines(t, s, photo.Options{})
	require.ErrorContains(t, err, "none of the 10 lines can be measured")
	require.ErrorContains(t, err, "6 pixels wide or more")
}

func TestReadLinesLeavesOutWhatItCannotMeasure(t *testing.T) {
	s := lineScene(t, oneCoat(t), 0.3)
	gone := s.Chart.Swatches[1].ID
	s.Missing = map[string]bool{gone: true}
	s.Roll, s.Mirrored = 180, true
	res, err := readLines(t, s, photo.Options{})
	require.NoError(t, err)
	require.True(t, res.Mirrored)
	require.Equal(t, 2, res.Quarters)
	for i, r := range res.Readings.Swatches {
		want := s.Width(s.Chart.Swatches[i], breakThrough(t, s.Stack))
		switch {
		case r.ID == gone:
			require.Contains(t, r.LeftOut, "too faint: it stands out from the bare paint by 0 %")
		case want == 0:
			require.Contains(t, r.LeftOut, "too faint")
		default:
			require.InEpsilon(t, float64(want), float64(r.Width), 0.05, r.ID)
		}
	}

	s.Exposure = 1.6
	_, err = readLines(t, s, photo.Options{})
	require.ErrorContains(t, err, "too bright for the photograph")
}

// Lines may be darker than what is around them, and a chart of unknown marks is read by
// its corners.
func TestReadLinesOtherwise(t *testing.T) {
	pale := oneCoat(t)
	pale.Coats[0].Colour, pale.Ground.Colour = pale.Ground.Colour, pale.Coats[0].Colour
	for name, st := range map[string]coat.Stack{"dark lines": pale, "marks unknown": oneCoat(t)} {
		t.Run(name, func(t *testing.T) {
			s := lineScene(t, st, 0.25)
			shot, err := s.Photo(context.Background())
			require.NoError(t, err)
			c, o := s.Chart, photo.Options{}
			if name == "marks unknown" {
				c.MarkSide, o.Corners = 0, &shot.Corners
			}
			res, err := photo.ReadLines(context.Background(), decode(t, shot.JPEG), c, o)
			require.NoError(t, err)
			require.Equal(t, o.Corners == nil, res.Found)
			fit, err := beam.FromLineReadings(res.Readings, nil)
			require.NoError(t, err)
			t.Logf("beam 0.25 read as %.6f", float64(fit.Width))
			require.InEpsilon(t, 0.25, float64(fit.Width), 0.03)
		})
	}
}

func TestReadLinesRefusesWhatIsNoLineChart(t *testing.T) {
	s := lineScene(t, oneCoat(t), 0.3)
	s.W, s.H = 700, 500
	shot, err := s.Photo(context.Background())
	require.NoError(t, err)
	pic := decode(t, shot.JPEG)
	solid := s.Chart
	solid.Kind = swatch.Solid
	_, err = photo.ReadLines(context.Background(), pic, solid, photo.Options{})
	require.ErrorContains(t, err, "swatches, not lines")
	unnamed := s.Chart
	unnamed.Machine = nil
	_, err = photo.ReadLines(context.Background(), pic, unnamed, photo.Options{})
	require.ErrorContains(t, err, "name the machine")
	unmarked := s
	unmarked.Chart.MarkSetting = nil
	shot, err = unmarked.Photo(context.Background())
	require.NoError(t, err)
	_, err = photo.ReadLines(context.Background(), decode(t, shot.JPEG), s.Chart, photo.Options{})
	require.ErrorIs(t, err, photo.ErrNoChart)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = photo.ReadLines(ctx, pic, s.Chart, photo.Options{})
	require.ErrorIs(t, err, context.Canceled)
}
