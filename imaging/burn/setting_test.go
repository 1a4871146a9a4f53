package burn_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

func usual() burn.Setting {
	return burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.08, Passes: 1}
}

func TestSettingFile(t *testing.T) {
	const file = `{"power_percent":30,"speed_mm_per_min":1500,"pitch_mm":0.08,"passes":1}`
	data, err := json.Marshal(usual())
	require.NoError(t, err)
	require.Equal(t, file, string(data))
	var s burn.Setting
	require.NoError(t, json.Unmarshal(data, &s))
	require.Equal(t, usual(), s)
	require.ErrorContains(t, json.Unmarshal([]byte(`{"power_percent":30,"speed":1500}`), &s), "setting: speed is not known")
}

func TestSettingValidate(t *testing.T) {
	m := starter()
	good := func(s burn.Setting) func(*testing.T) {
		return func(t *testing.T) { require.NoError(t, s.Validate(m)) }
	}
	t.Run("usual", good(usual()))
	t.Run("all at most", good(burn.Setting{PowerPercent: 100, Speed: m.TopSpeed, Pitch: 1, Passes: 20}))
	t.Run("2540 dpi", good(burn.Setting{PowerPercent: 0.1, Speed: 1, Pitch: 25.4 / layout.MM(2540), Passes: 1}))

	for name, c := range map[string]struct {
		spoil func(*burn.Setting)
		want  string
	}{
		"no power":      {func(s *burn.Setting) { s.PowerPercent = 0 }, "power_percent 0 is out of range: give above 0 and up to 100 %"},
		"too much":      {func(s *burn.Setting) { s.PowerPercent = 100.5 }, "power_percent 100.5"},
		"power NaN":     {func(s *burn.Setting) { s.PowerPercent = math.NaN() }, "power_percent NaN"},
		"no speed":      {func(s *burn.Setting) { s.Speed = 0 }, "speed_mm_per_min 0 is out of range"},
		"backwards":     {func(s *burn.Setting) { s.Speed = -25 }, "speed_mm_per_min -1500 is out of range"},
		"over the top":  {func(s *burn.Setting) { s.Speed = 150 }, "speed_mm_per_min 9000 is out of range: give 1 to 6000 mm/min on this machine"},
		"speed NaN":     {func(s *burn.Setting) { s.Speed = layout.MMPerSecond(math.NaN()) }, "speed_mm_per_min NaN"},
		"speed Inf":     {func(s *burn.Setting) { s.Speed = layout.MMPerSecond(math.Inf(1)) }, "speed_mm_per_min +Inf"},
		"no pitch":      {func(s *burn.Setting) { s.Pitch = 0 }, "pitch_mm 0 is out of range: give 0.01 to 1 mm"},
		"coarse pitch":  {func(s *burn.Setting) { s.Pitch = 1.01 }, "pitch_mm 1.01"},
		"pitch NaN":     {func(s *burn.Setting) { s.Pitch = layout.MM(math.NaN()) }, "pitch_mm NaN"},
		"no pass":       {func(s *burn.Setting) { s.Passes = 0 }, "passes 0 is out of range: give 1 to 20 passes"},
		"300 passes":    {func(s *burn.Setting) { s.Passes = 300 }, "passes 300 is out of range: give 1 to 20 passes"},
		"passes undone": {func(s *burn.Setting) { s.Passes = -1 }, "passes -1"},
	} {
		t.Run(name, func(t *testing.T) {
			s := usual()
			c.spoil(&s)
			require.ErrorContains(t, s.Validate(m), c.want)
		})
	}
}
