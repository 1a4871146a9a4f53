package swatch_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

func TestNewBurnsEverySettingOnce(t *testing.T) {
	r := request()
	r.Speeds, r.Passes = []layout.MMPerSecond{20, 40}, []int{1, 2}
	c := newChart(t, r)
	require.Len(t, c.Swatches, 48)
	require.Len(t, c.Rasters, 48)
	settings := map[burn.Setting]int{}
	for _, s := range c.Swatches {
		settings[s.Setting]++
		require.NoError(t, s.Setting.Validate(machine()))
	}
	require.Len(t, settings, 48)
	require.Contains(t, c.Cautions(), burn.EqualDoseCaution)
}

func TestNewBurnsInRisingOrderOfDose(t *testing.T) {
	r := request()
	r.Speeds, r.Pitches = []layout.MMPerSecond{20, 40}, []layout.MM{0.08, 0.1}
	c := newChart(t, r)
	last := 0.0
	for _, raster := range c.Rasters {
		dose := burn.Dose(machine(), raster.Setting, 1)
		require.GreaterOrEqual(t, dose, last)
		last = dose
	}
}

// areas of a chart that must keep clear of one another.
func apart(c swatch.Chart) []layout.Area {
	var all []layout.Area
	for _, s := range c.Swatches {
		all = append(all, s.Area())
	}
	all = append(all, c.References...)
	marks := c.MarkAreas()
	return append(all, marks[:]...)
}

func overlap(a, b layout.Area) bool {
	return math.Abs(float64(a.Centre.X-b.Centre.X)) < float64(a.Size.W+b.Size.W)/2-1e-6 &&
		math.Abs(float64(a.Centre.Y-b.Centre.Y)) < float64(a.Size.H+b.Size.H)/2-1e-6
}

func TestNewKeepsEverythingApartAndOnTheScrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := request()
		r.Powers = nil
		for i := range rapid.IntRange(1, 80).Draw(t, "powers") {
			r.Powers = append(r.Powers, float64(i+1))
		}
		r.Scrap = layout.Size{W: layout.MM(rapid.IntRange(20, 400).Draw(t, "w")), H: layout.MM(rapid.IntRange(20, 400).Draw(t, "h"))}
		r.Side = layout.MM(rapid.SampledFrom([]float64{0, 3, 8, 20}).Draw(t, "side"))
		c, err := swatch.New(r)
		if err != nil {
			require.ErrorContains(t, err, "need")
			return
		}
		require.LessOrEqual(t, c.Size.W, r.Scrap.W-2*r.Margin)
		require.LessOrEqual(t, c.Size.H, r.Scrap.H-2*r.Margin)
		all := apart(c)
		for i, a := range all {
			for _, b := range all[:i] {
				require.False(t, overlap(a, b), "%v and %v", a, b)
			}
		}
	})
}

func TestNewRefusesWithWhatWouldWork(t *testing.T) {
	for name, tc := range map[string]struct {
		change func(*swatch.Request)
		want   string
	}{
		"too many for the scrap": {func(r *swatch.Request) { r.Scrap, r.Side = layout.Size{W: 80, H: 50}, 10 },
			"12 swatches of 10 mm need 75 x 46 mm with their marks, and the scrap less its margin has 70 x 40 mm: take a larger scrap, or burn at most 6 swatches, or make them 8 mm"},
		"scrap within its margin": {func(r *swatch.Request) { r.Margin = 60 }, "has nothing: take a larger scrap"},
		"bed too small":           {func(r *swatch.Request) { r.Machine.Bed = layout.Size{W: 40, H: 40} }, "the scrap on this machine's bed has 30 x 40 mm"},
		"no power":                {func(r *swatch.Request) { r.Powers = nil }, "no power is given"},
		"no speed":                {func(r *swatch.Request) { r.Speeds = nil }, "no speed is given"},
		"power twice":             {func(r *swatch.Request) { r.Powers = []float64{10, 20, 10} }, "stands there twice"},
		"power out of range":      {func(r *swatch.Request) { r.Powers = []float64{10, 120} }, "power_percent 120"},
		"power not a number":      {func(r *swatch.Request) { r.Powers = []float64{math.NaN()} }, "power_percent NaN"},
		"too fast":                {func(r *swatch.Request) { r.Speeds = []layout.MMPerSecond{150} }, "speed_mm_per_min 9000"},
		"no light":                {func(r *swatch.Request) { r.Machine.PowerOffsetPercent = 10 }, "power 5 % gives no light"},
		"tints of a solid chart":  {func(r *swatch.Request) { r.Tints = []float64{0.5} }, "tints belong to a tint row"},
		"tint row of many powers": {func(r *swatch.Request) { r.Kind = swatch.Tints }, "burned at one setting"},
		"lines at two speeds":     {func(r *swatch.Request) { r.Kind, r.Speeds = swatch.Lines, []layout.MMPerSecond{10, 20} }, "compares powers alone"},
		"unknown kind":            {func(r *swatch.Request) { r.Kind = "stripes" }, `kind "stripes" is not known`},
		"swatch too small":        {func(r *swatch.Request) { r.Side = 1 }, "give 3 to 50 mm"},
		"margin not a number":     {func(r *swatch.Request) { r.Margin = layout.MM(math.NaN()) }, "margin NaN"},
		"endless combinations": {func(r *swatch.Request) {
			r.Passes = []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
			r.Pitches = []layout.MM{.1, .2, .3, .4, .5, .6, .7, .8, .9}
		}, "1080 swatches are more than a chart's 1000"},
	} {
		t.Run(name, func(t *testing.T) {
			r := request()
			tc.change(&r)
			_, err := swatch.New(r)
			require.ErrorContains(t, err, tc.want)
		})
	}
}

// What an error offers must be true.
func TestNewFitsWhatItOffers(t *testing.T) {
	r := request()
	r.Scrap, r.Side = layout.Size{W: 80, H: 50}, 8
	newChart(t, r)
	r.Side, r.Powers = 10, r.Powers[:6]
	newChart(t, r)
	r.Powers = request().Powers[:7]
	_, err := swatch.New(r)
	require.Error(t, err)
}

func TestNewForAMachineWithPowerPerPixel(t *testing.T) {
	r := request()
	r.Machine.PowerPerPixel, r.Machine.PowerOffsetPercent = true, 3
	c := newChart(t, r)
	require.Len(t, c.Rasters, 1)
	require.True(t, c.Rasters[0].EightBit)
	require.Equal(t, 60.0, c.Rasters[0].Setting.PowerPercent)
	for _, s := range c.Swatches {
		share := 255 * (s.Setting.PowerPercent - 3) / 57
		require.InDelta(t, math.Round(share), share, 1e-9, "a power that eight bits hold")
	}
	r.OneBit = true
	require.Len(t, newChart(t, r).Rasters, 12)
}

func TestMarksShowWhateverTheCurve(t *testing.T) {
	c := newChart(t, request())
	// On a dark top coat over a pale ground the marks go down to the ground.
	require.GreaterOrEqual(t, burn.Dose(machine(), *c.MarkSetting, 1), 100.0)
	require.Empty(t, c.Cautions()[:len(c.Cautions())-1], "all but the one on centring")

	r := request()
	r.Powers = []float64{1, 2, 3}
	require.Contains(t, newChart(t, r).Cautions()[0], "the marks may hardly show")
	r.Stack = nil
	require.Equal(t, 3.0, newChart(t, r).MarkSetting.PowerPercent)
}

func TestTintRow(t *testing.T) {
	r := request()
	r.Kind, r.Powers = swatch.Tints, []float64{30}
	c := newChart(t, r)
	require.Len(t, c.Swatches, 11, "ten tints and a solid")
	require.Len(t, c.Rasters, 1)
	seen := map[float64]bool{}
	for _, s := range c.Swatches {
		seen[s.Tint] = true
	}
	require.Len(t, seen, 11)
	require.True(t, seen[0] && seen[0.05] && seen[0.95])
}
