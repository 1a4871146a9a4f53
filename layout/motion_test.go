package layout

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Source: the formulas of the trapezoidal and the triangular move profile as
// linearmotiontips.com gives them (d/v + v/a and 2 sqrt(d/a)); the seconds follow
// by arithmetic.
func TestMove(t *testing.T) {
	for _, test := range []struct {
		name                   string
		distance               MM
		speed                  MMPerSecond
		acceleration, wantSecs float64
	}{
		{"trapezoid", 100, 50, 500, 2.1},
		{"longer trapezoid", 300, 100, 1000, 3.1},
		{"exactly both ramps", 10, 100, 1000, 0.2},
		{"triangle", 2, 100, 1000, 0.0894427},
		{"line step", 0.08, 50, 500, 0.0252982},
		{"nothing", 0, 50, 500, 0},
		{"less than nothing", -3, 50, 500, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			m := Motion{Speed: test.speed, AccelerationMMPerS2: test.acceleration}
			require.InDelta(t, test.wantSecs, m.Move(test.distance).Seconds(), 5e-8)
		})
	}
}

func TestMoveThatNeverArrives(t *testing.T) {
	for name, m := range map[string]Motion{
		"no speed":         {AccelerationMMPerS2: 500},
		"no acceleration":  {Speed: 50},
		"speed NaN":        {Speed: MMPerSecond(math.NaN()), AccelerationMMPerS2: 500},
		"acceleration NaN": {Speed: 50, AccelerationMMPerS2: math.NaN()},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, time.Duration(math.MaxInt64), m.Move(1))
			require.Equal(t, time.Duration(math.MaxInt64), m.RasterTime(nil, Grid{2, 2, 0.1}))
			requireSentence(t, m.Validate())
		})
	}
	require.Equal(t, time.Duration(math.MaxInt64), Motion{Speed: 1, AccelerationMMPerS2: 1}.Move(MM(math.NaN())))
}

func TestMotionValidate(t *testing.T) {
	good := Motion{Speed: 25, AccelerationMMPerS2: 500, RunUp: 5}
	require.NoError(t, good.Validate())
	for _, spoil := range []func(*Motion){
		func(m *Motion) { m.Speed = MaxSpeed + 1 },
		func(m *Motion) { m.AccelerationMMPerS2 = math.Inf(1) },
		func(m *Motion) { m.RunUp = -1 },
		func(m *Motion) { m.RunUp = MM(math.NaN()) },
	} {
		bad := good
		spoil(&bad)
		requireSentence(t, bad.Validate())
	}
}

// N = H/pitch lines, each W/v + 2v/a with the run-up equal to the ramp v^2/2a,
// and N line steps. The seconds follow by arithmetic.
func TestRasterTime(t *testing.T) {
	for _, test := range []struct {
		name         string
		size         Size
		pitch        MM
		speed        MMPerSecond
		acceleration float64
		lines        int
		wantSecs     float64
	}{
		{"200 x 150 mm", Size{200, 150}, 0.1, 50, 500, 1500, 6342.426},
		{"300 x 300 mm", Size{300, 300}, 0.08, 100, 1000, 3750, 12067.082},
		{"254 x 203.2 mm", Size{254, 203.2}, 0.08, 50, 500, 2540, 13475.457},
	} {
		t.Run(test.name, func(t *testing.T) {
			grid, err := Area{Size: test.size}.Grid(test.pitch)
			require.NoError(t, err)
			require.Equal(t, test.lines, grid.Rows)
			m := Motion{Speed: test.speed, AccelerationMMPerS2: test.acceleration}
			m.RunUp = m.ramp()
			require.InDelta(t, test.wantSecs, m.RasterTime(nil, grid).Seconds(), 6e-4)
			m.RunUp = 0
			require.InDelta(t, test.wantSecs, m.RasterTime(nil, grid).Seconds(), 6e-4, "a run-up shorter than the ramp becomes the ramp")
		})
	}
}

func TestRasterTimeWithLongRunUp(t *testing.T) {
	grid := Grid{Cols: 2000, Rows: 1500, Pitch: 0.1}
	m := Motion{Speed: 50, AccelerationMMPerS2: 500, RunUp: 5} // the ramp is 2.5 mm
	want := 1500 * (m.Move(200+2*5) + m.Move(0.1))
	require.InDelta(t, want.Seconds(), m.RasterTime(nil, grid).Seconds(), 1e-5)
}

func TestRasterTimeSkipsBlank(t *testing.T) {
	grid := Grid{Cols: 1000, Rows: 10, Pitch: 0.1}
	m := Motion{Speed: 50, AccelerationMMPerS2: 500, RunUp: 5, SkipsBlank: true}
	widths := []MM{0, 0, 40, 40, 0, 0, 0, 10, 100, 0} // six blank lines
	spans := func(row int) MM { return widths[row] }

	line := func(span MM) time.Duration { return m.Move(span + 10) }
	want := m.Move(0.3) + line(40) + m.Move(0.1) + line(40) + m.Move(0.4) + line(10) + m.Move(0.1) + line(100)
	require.InDelta(t, want.Seconds(), m.RasterTime(spans, grid).Seconds(), 1e-6)

	require.Zero(t, m.RasterTime(func(int) MM { return 0 }, grid), "a blank raster takes no time")
	require.Equal(t, m.RasterTime(nil, grid), m.RasterTime(func(int) MM { return 500 }, grid), "no span is wider than the raster")
	require.Zero(t, m.RasterTime(nil, Grid{Pitch: 0.1}))

	m.SkipsBlank = false
	require.InDelta(t, (10 * (line(100) + m.Move(0.1))).Seconds(), m.RasterTime(spans, grid).Seconds(), 1e-6)
}

func TestMoveProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Motion{
			Speed:               MMPerSecond(rapid.Float64Range(1, 500).Draw(t, "speed")),
			AccelerationMMPerS2: rapid.Float64Range(10, 10_000).Draw(t, "acceleration"),
		}
		near := rapid.Float64Range(0.01, 500).Draw(t, "near")
		far := near + rapid.Float64Range(0, 500).Draw(t, "more")
		require.LessOrEqual(t, m.Move(MM(near)), m.Move(MM(far)), "farther is never sooner")
		require.LessOrEqual(t, m.Move(MM(near+far)), m.Move(MM(near))+m.Move(MM(far))+2, "one move is never slower than two")
		require.GreaterOrEqual(t, m.Move(MM(near)).Seconds(), near/float64(m.Speed)-1e-8, "never faster than full speed all the way")
		knee := MM(float64(m.Speed) * float64(m.Speed) / m.AccelerationMMPerS2)
		require.InDelta(t, m.Move(knee*(1-1e-9)).Seconds(), m.Move(knee*(1+1e-9)).Seconds(), 1e-6, "trapezoid and triangle meet")
	})
}

func BenchmarkRasterTime(b *testing.B) {
	grid := Grid{Cols: 3132, Rows: 3132, Pitch: 25.4 / 318.0}
	m := Motion{Speed: 25, AccelerationMMPerS2: 500, RunUp: 5, SkipsBlank: true}
	spans := func(row int) MM { return MM(row%2500) * 0.1 }
	b.ReportAllocs()
	for b.Loop() {
		m.RasterTime(spans, grid)
	}
}
