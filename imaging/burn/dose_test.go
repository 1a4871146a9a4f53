package burn_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

// Source: energy over area, power over speed times pitch; exact by arithmetic.
func TestDose(t *testing.T) {
	for _, c := range []struct{ watts, percent, mmPerMin, pitch, want float64 }{
		{5, 30, 1500, 0.1, 60},
		{5.5, 21, 1200, 0.08, 72.1875},
		{1, 100, 1000, 0.1, 60},
		{5, 100, 3000, 0.08, 125},
		{10, 100, 6000, 0.1, 100},
		{2.5, 100, 1500, 0.08, 125},
		{5, 100, 6000, 0.1, 50},
	} {
		t.Run(fmt.Sprintf("%g W at %g %%", c.watts, c.percent), func(t *testing.T) {
			m := starter()
			m.OpticalPowerW = c.watts
			s := burn.Setting{PowerPercent: c.percent, Speed: layout.MMPerSecond(c.mmPerMin / 60), Pitch: layout.MM(c.pitch), Passes: 1}
			require.InEpsilon(t, c.want, burn.Dose(m, s, 1), 1e-12)
		})
	}
}

func TestDoseOfPasses(t *testing.T) {
	one := burn.Dose(starter(), usual(), 1)
	for _, c := range []struct {
		passes   int
		exponent float64
		want     float64
	}{{1, 0.7, 1}, {3, 0, 3}, {3, 1, 3}, {4, 0.5, 2}, {2, 1.15, math.Pow(2, 1.15)}} {
		s := usual()
		s.Passes = c.passes
		require.InEpsilon(t, c.want*one, burn.Dose(starter(), s, c.exponent), 1e-12)
	}
}

func TestEqualDose(t *testing.T) {
	m := starter()
	t.Run("twice the speed takes twice the light", func(t *testing.T) {
		power, err := burn.EqualDose(m, usual(), 50, 0.08)
		require.NoError(t, err)
		require.InDelta(t, 60, power, 1e-9)
	})
	t.Run("offset", func(t *testing.T) {
		off := m
		off.PowerOffsetPercent = 10 // light begins at 10 %: 30 % is 20 parts of 90
		power, err := burn.EqualDose(off, usual(), 50, 0.08)
		require.NoError(t, err)
		require.InDelta(t, 50, power, 1e-9)
	})
	t.Run("up to full power", func(t *testing.T) {
		s := usual()
		s.PowerPercent = 50
		power, err := burn.EqualDose(m, s, 50, 0.08)
		require.NoError(t, err)
		require.Equal(t, 100.0, power)
	})
	for name, c := range map[string]struct {
		s     burn.Setting
		speed layout.MMPerSecond
		pitch layout.MM
		want  string
	}{
		"too much":       {usual(), 100, 0.08, "needs 6 W of light and the machine has 5 W: choose a lower speed or a finer pitch"},
		"over the top":   {usual(), 101, 0.01, "speed_mm_per_min 6060"},
		"no speed":       {usual(), 0, 0.08, "speed_mm_per_min 0"},
		"pitch":          {usual(), 25, 2, "pitch_mm 2"},
		"setting itself": {burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.08}, 25, 0.08, "passes 0"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := burn.EqualDose(m, c.s, c.speed, c.pitch)
			require.ErrorContains(t, err, c.want)
		})
	}
	t.Run("no light", func(t *testing.T) {
		off := m
		off.PowerOffsetPercent = 30
		_, err := burn.EqualDose(off, usual(), 25, 0.08)
		require.ErrorContains(t, err, "gives no light on this machine")
	})
}

func TestEqualDoseIsEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := starter()
		m.PowerOffsetPercent = rapid.Float64Range(0, 50).Draw(t, "offset")
		s := burn.Setting{
			PowerPercent: rapid.Float64Range(51, 100).Draw(t, "power"),
			Speed:        layout.MMPerSecond(rapid.Float64Range(1, 100).Draw(t, "speed")),
			Pitch:        layout.MM(rapid.Float64Range(0.01, 1).Draw(t, "pitch")),
			Passes:       rapid.IntRange(1, 20).Draw(t, "passes"),
		}
		other := s
		other.Speed *= layout.MMPerSecond(rapid.Float64Range(0.5, 1).Draw(t, "slower"))
		other.Speed = max(other.Speed, 0.5)
		var err error
		other.PowerPercent, err = burn.EqualDose(m, s, other.Speed, other.Pitch)
		require.NoError(t, err)
		require.InEpsilon(t, burn.Dose(m, s, 0.9), burn.Dose(m, other, 0.9), 1e-9)
	})
}

func TestEqualDoseTable(t *testing.T) {
	m := starter()
	s := usual()
	s.Passes = 2
	area := layout.Area{Size: layout.Size{W: 100, H: 8}}
	table, err := burn.EqualDoseTable(m, s, area, []layout.MM{0.08, 0.04}, []layout.MMPerSecond{25, 50, 100})
	require.NoError(t, err)
	var got []burn.Setting
	for _, e := range table {
		got = append(got, e.Setting)
		require.InEpsilon(t, burn.Dose(m, s, 1), burn.Dose(m, e.Setting, 1), 1e-9)
		grid, err := area.Grid(e.Setting.Pitch)
		require.NoError(t, err)
		require.Equal(t, 2*m.Motion(e.Setting.Speed).RasterTime(nil, grid), e.Time)
		require.Greater(t, e.Time, time.Minute)
	}
	require.Len(t, got, 5, "100 mm/s at 0.08 mm would take 120 % of the power")
	for i, want := range []burn.Setting{{30, 25, 0.08, 2}, {60, 50, 0.08, 2}, {15, 25, 0.04, 2}, {30, 50, 0.04, 2}, {60, 100, 0.04, 2}} {
		require.InDelta(t, want.PowerPercent, got[i].PowerPercent, 1e-9)
		want.PowerPercent = got[i].PowerPercent
		require.Equal(t, want, got[i])
	}

	_, err = burn.EqualDoseTable(m, s, area, []layout.MM{0}, []layout.MMPerSecond{25})
	require.ErrorContains(t, err, "pitch_mm 0")
	_, err = burn.EqualDoseTable(m, s, area, []layout.MM{0.08}, []layout.MMPerSecond{-1})
	require.ErrorContains(t, err, "speed_mm_per_min -60")
	_, err = burn.EqualDoseTable(m, burn.Setting{}, area, nil, nil)
	require.ErrorContains(t, err, "power_percent 0")
	off := m
	off.PowerOffsetPercent = 30
	_, err = burn.EqualDoseTable(off, s, area, []layout.MM{0.08}, []layout.MMPerSecond{25})
	require.ErrorContains(t, err, "no light")
}
