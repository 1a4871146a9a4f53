package photo_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/photo"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

func TestReadRecoversTheLooksOfSwatches(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	for name, change := range map[string]func(*simulate.Scene){
		"as makers take them": func(*simulate.Scene) {},
		"straight and even":   func(s *simulate.Scene) { s.Tilt, s.Swing, s.FallOff, s.Cast = 0, 0, 0, [3]float64{} },
		"tilted by 25":        func(s *simulate.Scene) { s.Tilt, s.Swing, s.Fill = 25, 0, 0.6 },
		"swung by 25":         func(s *simulate.Scene) { s.Tilt, s.Swing, s.Fill = 0, 25, 0.6 },
		"rolled by 20":        func(s *simulate.Scene) { s.Roll, s.Fill = 20, 0.6 },
		"blue cast":           func(s *simulate.Scene) { s.Cast = [3]float64{0.6, 0.85, 1} },
		"dim":                 func(s *simulate.Scene) { s.Exposure = 0.45 },
		"on a white desk":     func(s *simulate.Scene) { s.Desk = colour.Linear{R: 0.9, G: 0.9, B: 0.9} },
		"on a black desk":     func(s *simulate.Scene) { s.Desk = colour.Linear{R: 0.004, G: 0.004, B: 0.004} },
		"small":               func(s *simulate.Scene) { s.W, s.H = 1200, 900 },
	} {
		t.Run(name, func(t *testing.T) {
			s := scene(t, c)
			change(&s)
			_, pic := take(t, s)
			res, err := photo.Read(context.Background(), pic, c, photo.Options{})
			require.NoError(t, err)
			require.True(t, res.Found)
			require.Zero(t, res.Quarters)
			require.False(t, res.Mirrored)
			requireRecovered(t, s, res, 1, 2.5)
		})
	}
}

func TestReadTurnsThePhotographRound(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	for name, tc := range map[string]struct {
		roll     float64
		mirrored bool
		quarters int
	}{
		"upside down":          {180, false, 2},
		"on its right side":    {-90, false, 3},
		"on its left side":     {90, false, 1},
		"mirrored":             {0, true, 0},
		"mirrored upside down": {180, true, 2},
	} {
		t.Run(name, func(t *testing.T) {
			s := scene(t, c)
			s.Roll, s.Mirrored = tc.roll, tc.mirrored
			if tc.quarters%2 == 1 {
				s.Fill = 0.5
			}
			shot, pic := take(t, s)
			res, err := photo.Read(context.Background(), pic, c, photo.Options{})
			require.NoError(t, err)
			require.Equal(t, tc.mirrored, res.Mirrored)
			require.Equal(t, tc.quarters, res.Quarters)
			for i, want := range shot.Corners {
				require.InDelta(t, want.X, res.Corners[i].X, 4)
				require.InDelta(t, want.Y, res.Corners[i].Y, 4)
			}
			requireRecovered(t, s, res, 1, 2.5)
		})
	}
}

// threshold is some even screen of twenty steps.
func threshold(_ context.Context, tints *plane.Grey16) (*plane.Bits, error) {
	dots := plane.NewBits(tints.W, tints.H)
	for y := range tints.H {
		for x := range tints.W {
			if (float64((7*x+13*y)%20)+0.5)/20 < float64(tints.Row(y)[x])/65535 {
				dots.Set(x, y)
			}
		}
	}
	return dots, nil
}

func TestReadATintRow(t *testing.T) {
	st := stack(t)
	c, err := swatch.New(swatch.Request{
		Machine: machine(), Stack: &st, Kind: swatch.Tints, Scrap: layout.Size{W: 150, H: 80}, Margin: 8,
		Powers: []float64{60}, Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.1},
	})
	require.NoError(t, err)
	s := scene(t, c)
	s.Screen = threshold
	_, pic := take(t, s)
	res, err := photo.Read(context.Background(), pic, c, photo.Options{})
	require.NoError(t, err)
	requireRecovered(t, s, res, 1.2, 2.5)
	for i, r := range res.Readings.Swatches {
		require.Equal(t, c.Swatches[i].Tint, r.Tint)
	}
}

// Marks may be darker than the paint around them, or differ in hue alone.
func TestReadOtherPaints(t *testing.T) {
	for name, colours := range map[string][2]string{
		"dark under pale":     {"#e9e6dc", "#25272b"},
		"red under blue-grey": {"#5d6b78", "#a8503c"},
		"blue under white":    {"#f2f2f2", "#3558a0"},
	} {
		t.Run(name, func(t *testing.T) {
			st := stack(t)
			st.Coats = st.Coats[:1]
			st.Coats[0].Colour, st.Ground.Colour = hex(t, colours[0]), hex(t, colours[1])
			st.Curve.Points, st.Curve.Spread, st.Curve.ScorchDoseJCM2 = st.Curve.Points[:2], st.Curve.Spread[:1], 0
			c, err := swatch.New(swatch.Request{
				Machine: machine(), Stack: &st, Scrap: layout.Size{W: 200, H: 150}, Margin: 8,
				Powers: powers(4, 40, 3), Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.1},
			})
			require.NoError(t, err)
			s := scene(t, c)
			s.Stack = st
			_, pic := take(t, s)
			res, err := photo.Read(context.Background(), pic, c, photo.Options{})
			require.NoError(t, err)
			requireRecovered(t, s, res, 1, 2)
		})
	}
}
