package burn_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

const machineFile = `{"kind":"undercoat-machine","version":1,"name":"bench laser","optical_power_w":5,"power_offset_percent":0,
	"beam_width_along_mm":0.08,"beam_width_across_mm":0.10,"bed_mm":[400,380],"run_up_mm":5,"acceleration_mm_per_s2":500,
	"top_speed_mm_per_min":6000,"power_per_pixel":false,"skips_blank":true}`

// starter is a machine with made-up but plausible numbers.
func starter() burn.Machine {
	return burn.Machine{
		Name: "bench laser", OpticalPowerW: 5, BeamAlong: 0.08, BeamAcross: 0.10, Bed: layout.Size{W: 400, H: 380},
		RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100, SkipsBlank: true,
	}
}

func TestReadMachine(t *testing.T) {
	m, err := burn.ReadMachine([]byte(machineFile))
	require.NoError(t, err)
	require.Equal(t, starter(), m)
	require.Equal(t, layout.Motion{Speed: 25, AccelerationMMPerS2: 500, RunUp: 5, SkipsBlank: true}, m.Motion(25))

	data, err := m.JSON()
	require.NoError(t, err)
	require.JSONEq(t, machineFile, string(data))
	again, err := m.JSON()
	require.NoError(t, err)
	require.Equal(t, data, again)
}

func TestReadMachineRefuses(t *testing.T) {
	for name, c := range map[string]struct{ from, to, want string }{
		"other kind":        {`"undercoat-machine"`, `"undercoat-stack"`, `kind is "undercoat-stack"`},
		"newer version":     {`"version":1`, `"version":2`, "version is 2"},
		"unknown field":     {`"name":`, `"nmae":`, "nmae is not known"},
		"no light":          {`"optical_power_w":5`, `"optical_power_w":0`, "optical_power_w 0 is out of range: give 0.01 to 1000 W"},
		"offset":            {`"power_offset_percent":0`, `"power_offset_percent":100`, "power_offset_percent 100 is out of range"},
		"no beam":           {`"beam_width_along_mm":0.08`, `"beam_width_along_mm":0`, "beam_width_along_mm 0 is out of range: give 0.01 to 2 mm"},
		"beam left out":     {`"beam_width_along_mm":0.08,`, ``, "beam_width_along_mm 0 is out of range"},
		"vast beam":         {`"beam_width_across_mm":0.10`, `"beam_width_across_mm":100`, "beam_width_across_mm 100 is out of range: give 0.01 to 2 mm"},
		"negative beam":     {`"beam_width_across_mm":0.10`, `"beam_width_across_mm":-0.1`, "beam_width_across_mm -0.1 is out of range"},
		"no bed":            {`[400,380]`, `[400,0]`, "bed_mm"},
		"run-up":            {`"run_up_mm":5`, `"run_up_mm":-1`, "run_up_mm -1"},
		"acceleration":      {`:500`, `:0`, "acceleration_mm_per_s2 0"},
		"no speed":          {`:6000`, `:0`, "top_speed_mm_per_min 0 is out of range: give 1 to 120000 mm/min"},
		"vast speed":        {`:6000`, `:6e9`, "top_speed_mm_per_min 6e+09"},
		"not a number":      {`:6000`, `:NaN`, "not JSON"},
		"text for a number": {`:6000`, `:"6000"`, "top_speed_mm_per_min is a string"},
		"long name":         {`bench laser`, strings.Repeat("x", 201), "name is 201 bytes long"},
		"cut short":         {`"skips_blank":true}`, ``, "ends too early"},
	} {
		t.Run(name, func(t *testing.T) {
			data := strings.Replace(machineFile, c.from, c.to, 1)
			require.NotEqual(t, machineFile, data)
			_, err := burn.ReadMachine([]byte(data))
			require.ErrorContains(t, err, c.want)
			require.ErrorContains(t, err, "machine: ")
		})
	}
}

func TestValidateRefusesNaN(t *testing.T) {
	for name, spoil := range map[string]func(*burn.Machine, float64){
		"optical_power_w":        func(m *burn.Machine, v float64) { m.OpticalPowerW = v },
		"power_offset_percent":   func(m *burn.Machine, v float64) { m.PowerOffsetPercent = v },
		"beam_width_along_mm":    func(m *burn.Machine, v float64) { m.BeamAlong = layout.MM(v) },
		"beam_width_across_mm":   func(m *burn.Machine, v float64) { m.BeamAcross = layout.MM(v) },
		"bed_mm width":           func(m *burn.Machine, v float64) { m.Bed.W = layout.MM(v) },
		"bed_mm height":          func(m *burn.Machine, v float64) { m.Bed.H = layout.MM(v) },
		"run_up_mm":              func(m *burn.Machine, v float64) { m.RunUp = layout.MM(v) },
		"acceleration_mm_per_s2": func(m *burn.Machine, v float64) { m.AccelerationMMPerS2 = v },
		"top_speed_mm_per_min":   func(m *burn.Machine, v float64) { m.TopSpeed = layout.MMPerSecond(v) },
	} {
		t.Run(name, func(t *testing.T) {
			for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				m := starter()
				spoil(&m, v)
				require.ErrorContains(t, m.Validate(), name)
				_, err := m.JSON()
				require.ErrorContains(t, err, name)
			}
		})
	}
	require.NoError(t, starter().Validate())
}

// What a file says must come back from it, to the last digit.
func TestFilesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := starter()
		m.TopSpeed = layout.MMPerSecond(rapid.Float64Range(1, 2000).Draw(t, "top speed"))
		m.BeamAlong = layout.MM(rapid.Float64Range(0.01, 2).Draw(t, "beam"))
		s := burn.Setting{
			PowerPercent: rapid.Float64Range(0.01, 100).Draw(t, "power"),
			Speed:        m.TopSpeed / 2,
			Pitch:        layout.MM(rapid.Float64Range(0.01, 1).Draw(t, "pitch")),
			Passes:       rapid.IntRange(1, 20).Draw(t, "passes"),
		}
		type both struct {
			Machine burn.Machine
			Setting burn.Setting
		}
		data, err := json.Marshal(both{m, s})
		require.NoError(t, err)
		var got both
		require.NoError(t, json.Unmarshal(data, &got))
		require.Equal(t, m.BeamAlong, got.Machine.BeamAlong)
		require.InEpsilon(t, float64(m.TopSpeed), float64(got.Machine.TopSpeed), 1e-15)
		require.InEpsilon(t, float64(s.Speed), float64(got.Setting.Speed), 1e-15)
		got.Setting.Speed = s.Speed
		require.Equal(t, s, got.Setting)
	})
	t.Run("whole mm/min stay whole", func(t *testing.T) {
		for mmPerMin := 1.0; mmPerMin <= 6000; mmPerMin++ {
			data, err := json.Marshal(burn.Setting{Speed: layout.MMPerSecond(mmPerMin / 60)})
			require.NoError(t, err)
			var got struct {
				Speed float64 `json:"speed_mm_per_min"`
			}
			require.NoError(t, json.Unmarshal(data, &got))
			require.Equal(t, mmPerMin, got.Speed)
		}
	})
}

func TestOpticalW(t *testing.T) {
	m := starter()
	m.OpticalPowerW = 10
	for _, c := range []struct{ offset, percent, want float64 }{
		{0, 0, 0}, {0, 30, 3}, {0, 100, 10}, {20, 10, 0}, {20, 20, 0}, {20, 60, 5}, {20, 100, 10},
	} {
		m.PowerOffsetPercent = c.offset
		require.InDelta(t, c.want, m.OpticalW(c.percent), 1e-12, "%g %% with an offset of %g %%", c.percent, c.offset)
	}
}

// Whatever is read is valid, and comes back from its own file.
func FuzzReadMachine(f *testing.F) {
	f.Add([]byte(machineFile))
	f.Add([]byte(`{"kind":"undercoat-machine","version":1,"bed_mm":[1e999]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := burn.ReadMachine(data)
		if err != nil {
			return
		}
		file, err := m.JSON()
		require.NoError(t, err)
		again, err := burn.ReadMachine(file)
		require.NoError(t, err)
		m.TopSpeed = again.TopSpeed // to within its last bit, see TestFilesRoundTrip
		m.Name = again.Name         // bytes that are no text become replacement marks
		require.Equal(t, m, again)
	})
}
