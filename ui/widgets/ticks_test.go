package widgets

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPlanTicks(t *testing.T) {
	tests := map[string]struct {
		pixelsPerUnit float64
		want          tickPlan
	}{
		"whole panel, 1.75 px to the mm": {1.75, tickPlan{step: 50, parts: 10, decimals: 0}},
		"two metres, 0.3 px to the mm":   {0.3, tickPlan{step: 200, parts: 10, decimals: 0}},
		"ten px to the mm":               {10, tickPlan{step: 10, parts: 10, decimals: 0}},
		"single dots, 400 px to the mm":  {400, tickPlan{step: 0.2, parts: 10, decimals: 1}},
		"inches, 45 px to the inch":      {45, tickPlan{step: 2, parts: 10, decimals: 0}},
		"nothing to go by":               {0, tickPlan{step: 1, parts: 1}},
		"not a number":                   {math.NaN(), tickPlan{step: 1, parts: 1}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			got := planTicks(tt.pixelsPerUnit, 60, 5)
			require.InEpsilon(t, tt.want.step, got.step, 1e-12)
			require.Equal(t, tt.want.parts, got.parts)
			require.Equal(t, tt.want.decimals, got.decimals)
		})
	}
}

func TestTicksNeitherCrowdNorThinOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pixelsPerUnit := math.Exp(rapid.Float64Range(math.Log(0.01), math.Log(1e5)).Draw(t, "ln pixels per unit"))
		const labelGap, markGap = 60, 5
		plan := planTicks(pixelsPerUnit, labelGap, markGap)

		apart := plan.step * pixelsPerUnit
		require.GreaterOrEqual(t, apart, labelGap*(1-1e-6))
		require.LessOrEqual(t, apart, labelGap*2.5*(1+1e-6))
		require.GreaterOrEqual(t, apart/float64(plan.parts), float64(markGap))
		require.LessOrEqual(t, plan.decimals, 6)
	})
}

func TestEachTick(t *testing.T) {
	type tick struct {
		value float64
		label string
	}
	collect := func(p tickPlan, from, to float64) (all []tick) {
		p.each(from, to, func(v float64, major bool, label string) {
			require.Equal(t, major, label != "")
			all = append(all, tick{v, label})
		})
		return all
	}
	require.Equal(t,
		[]tick{{-20, "−20"}, {-10, ""}, {0, "0"}, {10, ""}, {20, "20"}},
		collect(tickPlan{step: 20, parts: 2}, -20, 20))
	require.Equal(t,
		[]tick{{0, "0.0"}, {0.1, ""}, {0.2, "0.2"}},
		collect(tickPlan{step: 0.2, parts: 2, decimals: 1}, -0.05, 0.25))
	require.Empty(t, collect(tickPlan{step: 20, parts: 1}, 1, 19))
}
