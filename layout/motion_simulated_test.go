package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// head is a head that is driven in short ticks: full acceleration until it has its
// speed, full braking from where it would otherwise run past the end.
type head struct {
	Motion
	tick, seconds float64
}

// travel moves by d from rest to rest. slow is true if somewhere between from and to
// the head had not its speed.
func (h *head) travel(d, from, to MM) (slow bool) {
	a, top := h.AccelerationMMPerS2, float64(h.Speed)
	at, v := 0.0, 0.0
	for at < float64(d) {
		left := float64(d) - at
		switch {
		case v*v/(2*a) >= left:
			v = math.Max(v-a*h.tick, a*h.tick)
		case v < top:
			v = math.Min(v+a*h.tick, top)
		}
		if MM(at) > from && MM(at) < to && v < top*(1-1e-9) {
			slow = true
		}
		at += v * h.tick
		h.seconds += h.tick
	}
	return slow
}

func TestRasterTimeAgainstMotionTickByTick(t *testing.T) {
	spans := []MM{30, 30, 0, 0, 12, 3, 0.4, 0, 0, 0, 25, 30}
	for _, test := range []struct {
		name   string
		motion Motion
	}{
		{"every line", Motion{Speed: 50, AccelerationMMPerS2: 500, RunUp: 5}},
		{"blank lines skipped", Motion{Speed: 50, AccelerationMMPerS2: 500, RunUp: 5, SkipsBlank: true}},
		{"run-up shorter than the ramp", Motion{Speed: 100, AccelerationMMPerS2: 1000, RunUp: 1, SkipsBlank: true}},
		{"slow", Motion{Speed: 20, AccelerationMMPerS2: 3000, RunUp: 0.5}},
	} {
		t.Run(test.name, func(t *testing.T) {
			grid := Grid{Cols: 300, Rows: len(spans), Pitch: 0.1}
			h := head{Motion: test.motion, tick: 1e-5}
			leadIn := max(h.RunUp, h.ramp())
			var steps MM
			for _, span := range spans {
				steps += grid.Pitch
				if !h.SkipsBlank {
					span = grid.Size().W
				}
				if span == 0 {
					continue
				}
				h.travel(steps, 0, 0)
				steps = 0
				// A tick or two early or late.
				slack := 3 * MM(float64(h.Speed)*h.tick)
				require.False(t, h.travel(span+2*leadIn, leadIn+slack, leadIn+span-slack), "a dot is burned at full speed")
			}
			require.InEpsilon(t, h.seconds, h.RasterTime(func(row int) MM { return spans[row] }, grid).Seconds(), 1e-3)
		})
	}
}

// 10 in at 318 dpi and 1200 mm/min, a border of 2 mm: lines times their length over
// the speed are about 10.9 h; the run-up comes on top (derived).
func TestRasterTimeOfTenInches(t *testing.T) {
	grid, err := Area{Size: Size{254 - 4, 254 - 4}}.Grid(25.4 / 318.0)
	require.NoError(t, err)
	m := Motion{Speed: 20, AccelerationMMPerS2: 1e6} // as good as no ramps
	require.InDelta(t, 10.9, m.RasterTime(nil, grid).Hours(), 0.05)
	m.AccelerationMMPerS2, m.RunUp = 500, 5
	require.InDelta(t, 10.9*260/250, m.RasterTime(nil, grid).Hours(), 0.1)
}
