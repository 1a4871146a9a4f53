package coat_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/coat"
)

const stackFile = `{"kind":"undercoat-stack","version":1,"name":"graphite on white",
 "coats":[{"name":"graphite","colour":"#2b2d30","thickness_um":25},{"name":"teal","colour":"#1f7a7a","thickness_um":25}],
 "ground":{"name":"white ground","colour":"#f2efe6"},
 "curve":{"calibrated":false,"points":[{"dose_j_per_cm2":20,"depth_um":0},{"dose_j_per_cm2":45,"depth_um":25},{"dose_j_per_cm2":90,"depth_um":50}],
  "spread":[0.15,0.12],"scorch_dose_j_per_cm2":260,"scorch_colour":"#3a2a1c","pass_exponent":1}}`

func TestReadStack(t *testing.T) {
	s, err := coat.ReadStack([]byte(stackFile))
	require.NoError(t, err)
	require.Equal(t, "graphite on white", s.Name)
	require.Equal(t, coat.Coat{Name: "teal", Colour: hex("#1f7a7a"), ThicknessUM: 25}, s.Coats[1])
	require.Equal(t, hex("#f2efe6"), s.Ground.Colour)
	require.Equal(t, coat.Point{DoseJCM2: 45, DepthUM: 25}, s.Curve.Points[1])
	require.Equal(t, []float64{0.15, 0.12}, s.Curve.Spread)
	require.Equal(t, 260.0, s.Curve.ScorchDoseJCM2)
	require.False(t, s.Curve.Calibrated)
}

func TestReadStackRefuses(t *testing.T) {
	for name, c := range map[string]struct{ old, new, want string }{
		"unknown field":       {`"name":"teal"`, `"nmae":"teal"`, "coats[1].nmae"},
		"unknown in curve":    {`"spread"`, `"spreads"`, "curve.spreads"},
		"other case":          {`"ground":{"name"`, `"ground":{"Name"`, "ground.Name"},
		"thickness negative":  {`"thickness_um":25},{`, `"thickness_um":-25},{`, "coats[0].thickness_um is -25"},
		"thickness missing":   {`,"thickness_um":25}]`, `}]`, "coats[1].thickness_um is 0"},
		"thickness text":      {`"thickness_um":25},{`, `"thickness_um":"thin"},{`, "thickness_um"},
		"colour missing":      {`"colour":"#1f7a7a",`, ``, "coats[1].colour is missing"},
		"colour bad":          {`#1f7a7a`, `teal`, "#rrggbb"},
		"ground has no look":  {`,"colour":"#f2efe6"`, ``, "ground.colour is missing"},
		"depth missing":       {`,"depth_um":50`, ``, "curve.points[2].depth_um is missing"},
		"dose missing":        {`"dose_j_per_cm2":90,`, ``, "curve.points[2].dose_j_per_cm2 is 0"},
		"points unsorted":     {`"dose_j_per_cm2":90`, `"dose_j_per_cm2":30`, "curve.points[2].dose_j_per_cm2 is 30"},
		"not a number":        {`"dose_j_per_cm2":90`, `"dose_j_per_cm2":NaN`, "JSON"},
		"number too large":    {`"dose_j_per_cm2":90`, `"dose_j_per_cm2":1e400`, "dose_j_per_cm2"},
		"other kind":          {`"undercoat-stack"`, `"undercoat-machine"`, "kind is"},
		"newer version":       {`"version":1`, `"version":2`, "version is 2"},
		"spread for no coat":  {`[0.15,0.12]`, `[0.15,0.12,0.1]`, "curve.spread holds 3 values for 2 coats"},
		"two objects":         {`"pass_exponent":1}}`, `"pass_exponent":1}} {}`, "more follows"},
		"cut short":           {`"pass_exponent":1}}`, ``, "stack file"},
		"ground a list":       {`"ground":{"name":"white ground","colour":"#f2efe6"}`, `"ground":[]`, "ground is a"},
		"pass exponent minus": {`"pass_exponent":1`, `"pass_exponent":-1`, "curve.pass_exponent is -1"},
	} {
		t.Run(name, func(t *testing.T) {
			spoiled := strings.Replace(stackFile, c.old, c.new, 1)
			require.NotEqual(t, stackFile, spoiled)
			_, err := coat.ReadStack([]byte(spoiled))
			require.ErrorContains(t, err, c.want)
		})
	}
}

func TestJSONReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStack(t)
		data, err := s.JSON()
		require.NoError(t, err)
		again, err := s.JSON()
		require.NoError(t, err)
		require.Equal(t, string(data), string(again))
		back, err := coat.ReadStack(data)
		require.NoError(t, err)
		s.Kind, s.Version = coat.Kind, coat.Version
		require.Equal(t, s, back)
	})
}

func FuzzReadStack(f *testing.F) {
	f.Add([]byte(stackFile))
	f.Add([]byte(`{"kind":"undercoat-stack","version":1,"coats":[null],"ground":null,"curve":{"points":[null,null]}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := coat.ReadStack(data)
		if err != nil {
			return
		}
		m, err := s.Compile(coat.Options{})
		if err != nil {
			t.Fatalf("a stack that was read does not compile: %v", err)
		}
		m.Table().At(100)
	})
}
