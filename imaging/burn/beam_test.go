package burn_test

import (
	"context"
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

func TestChooseGrid(t *testing.T) {
	for _, c := range []struct {
		along, across, pitch layout.MM
		want                 int
	}{
		{0.08, 0.10, 0.08, 8}, // 0.01 mm is a quarter of 0.04 mm
		{0.10, 0.16, 0.08, 7}, // 8 * 0.8 = 6.4
		{0.16, 0.10, 0.08, 7},
		{0.16, 0.16, 0.08, 4},
		{0.64, 0.64, 0.08, 1},
		{2, 2, 0.01, 1},
		{0.01, 0.01, 1, 8},
	} {
		m := starter()
		m.BeamAlong, m.BeamAcross = c.along, c.across
		require.Equal(t, c.want, burn.ChooseGrid(m, c.pitch), "%g x %g at %g", c.along, c.across, c.pitch)
	}
	rapid.Check(t, func(t *rapid.T) {
		m := starter()
		m.BeamAlong = layout.MM(rapid.Float64Range(0.01, 2).Draw(t, "along"))
		m.BeamAcross = layout.MM(rapid.Float64Range(0.01, 2).Draw(t, "across"))
		pitch := layout.MM(rapid.Float64Range(0.01, 1).Draw(t, "pitch"))
		k := burn.ChooseGrid(m, pitch)
		quarter := min(m.BeamAlong, m.BeamAcross) / 8
		require.True(t, k == burn.MaxGrid || pitch/layout.MM(k) <= quarter*(1+1e-9), "fine enough")
		require.True(t, k == 1 || pitch/layout.MM(k-1) > quarter, "no finer than it must be")
	})
}

// ripples are fully burned fields of lines 0.08 mm apart with a mean dose of 125
// J/cm2, for several 1/e2 radii.
//
// Source: Poisson's summation of a Gaussian (ISO 11146 widths) over equally spaced
// lines, F(y) = mean (1 + 2 sum exp(-pi^2 k^2 w^2 / (2 h^2)) cos(2 pi k y / h)),
// worked out in double precision.
var ripples = []struct{ radius, high, low, contrast float64 }{
	{0.04, 199.6050, 53.9910, 0.574197},
	{0.05, 161.4842, 88.7398, 0.290717},
	{0.06, 140.5783, 109.4293, 0.124592},
	{0.08, 126.7980, 123.2020, 0.014384},
	{0.10, 125.1120, 124.8880, 0.000896},
}

const ripplePitch, rippleMean = 0.08, 125

func TestRipple(t *testing.T) {
	for _, c := range ripples {
		m := starter()
		m.BeamAcross = layout.MM(2 * c.radius)
		low, high, err := burn.Ripple(m, ripplePitch)
		require.NoError(t, err)
		require.InEpsilon(t, c.high, high*rippleMean, 1e-5)
		require.InEpsilon(t, c.low, low*rippleMean, 1e-5)
		require.InDelta(t, c.contrast, (high-low)/(high+low), 1e-5)
	}
	_, _, err := burn.Ripple(starter(), 0)
	require.ErrorContains(t, err, "pitch_mm 0")
}

// lines is one period of the dose across a field of lines h apart, in shares of
// its mean, from a line's middle on, for a beam of 1/e2 radius w. The field is
// drawn at the finest pitch, eighty rows to a line, all lengths ten times
// over, so that the samples lie close.
func lines(t *testing.T, radius float64, k int) []float32 {
	const spacing = 80 // 0.8 mm at a pitch of 0.01 mm
	m := starter()
	m.BeamAlong = 0.01
	m.BeamAcross = layout.MM(20 * radius)
	dots := plane.NewBits(9, 11*spacing)
	for y := spacing / 2; y < dots.H; y += spacing {
		for x := range dots.W {
			dots.Set(x, y)
		}
	}
	top := spacing/2 + 5*spacing
	var period []float32
	err := burn.ExposeRelative(context.Background(), m, 0.01, burn.OneBit(dots), image.Rect(4, top, 5, top+spacing+1), k,
		func(_ int, row []float32) error {
			period = append(period, row[k/2]*spacing)
			return nil
		})
	require.NoError(t, err)
	// The rows' middles run from line to line; the first and last half dot lie outside.
	return period[k/2 : len(period)-k/2]
}

func TestExposedRipple(t *testing.T) {
	for _, c := range ripples {
		t.Run(fmt.Sprintf("radius %g", c.radius), func(t *testing.T) {
			period := lines(t, c.radius, 1) // a row's middle lies on the line, and half way to the next
			require.InEpsilon(t, c.high, period[0]*rippleMean, 1e-5)
			require.InEpsilon(t, c.high, period[80]*rippleMean, 1e-5)
			require.InEpsilon(t, c.low, period[40]*rippleMean, 1e-5)
		})
	}
}

// Source: the share of the ripple above for w = 0.04 mm that lies over a threshold,
// from the same sum on a fine grid. Thresholding the mean would give all or none.
func TestAreaAboveThreshold(t *testing.T) {
	const k = 7
	period := lines(t, 0.04, k)
	require.Len(t, period, 80*k+1)
	for _, c := range []struct{ doseJCM2, share float64 }{
		{60, 0.86308}, {90, 0.65461}, {125, 0.49214}, {160, 0.33572}, {190, 0.15799},
	} {
		require.InDelta(t, c.share, shareAbove(period, c.doseJCM2/rippleMean), 1e-4, "over %g J/cm2", c.doseJCM2)
	}
}

// shareAbove measures where straight lines between samples lie over the threshold.
func shareAbove(samples []float32, threshold float64) float64 {
	above := 0.0
	for i := range len(samples) - 1 {
		a, b := float64(samples[i])-threshold, float64(samples[i+1])-threshold
		switch {
		case a >= 0 && b >= 0:
			above++
		case a >= 0:
			above += a / (a - b)
		case b >= 0:
			above += b / (b - a)
		}
	}
	return above / float64(len(samples)-1)
}

// Source: a Gaussian beam of 1/e2 radius w (ISO 11146): the energy inside a radius r
// is 1 - exp(-2 r^2 / w^2): .864665, .988891 and .999665 for w, 1.5 w and 2 w. One
// dot at a pitch of 1/40 of the radius smears the spot by 0.01 %.
func TestEnergyInsideRadius(t *testing.T) {
	m := starter()
	m.BeamAlong, m.BeamAcross = 0.8, 0.8
	const radius = 40 // dots, w = 0.4 mm at 0.01 mm
	dots := lit("#")
	var total float64
	inside := map[float64]float64{1: 0, 1.5: 0, 2: 0}
	region := image.Rect(-3*radius, -3*radius, 3*radius+1, 3*radius+1)
	err := burn.ExposeRelative(context.Background(), m, 0.01, burn.OneBit(dots), region, 1, func(y int, row []float32) error {
		for x, v := range row {
			total += float64(v)
			for r := range inside {
				if math.Hypot(float64(x-3*radius), float64(y-3*radius)) <= r*radius {
					inside[r] += float64(v)
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.InDelta(t, 1, total, 1e-5, "a dot gives its light, no more and no less")
	require.InDelta(t, 0.864665, inside[1], 5e-4)
	require.InDelta(t, 0.988891, inside[1.5], 5e-4)
	require.InDelta(t, 0.999665, inside[2], 5e-4)
}
