package layout

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPanelValidate(t *testing.T) {
	good := Panel{Kind: Canvas, Size: Size{304.8, 406.4}, EdgeDepth: 38.1}
	require.NoError(t, good.Validate())
	for _, kind := range []PanelKind{Tile, Board} {
		require.NoError(t, Panel{Kind: kind, Size: good.Size}.Validate())
	}
	nan := MM(math.NaN())
	for name, bad := range map[string]Panel{
		"no kind":        {Size: good.Size},
		"unknown kind":   {Kind: "door", Size: good.Size},
		"no size":        {Kind: Tile},
		"negative side":  {Kind: Tile, Size: Size{-1, 5}},
		"too long":       {Kind: Tile, Size: Size{5, MaxLength + 1}},
		"side NaN":       {Kind: Tile, Size: Size{nan, 5}},
		"depth negative": {Kind: Tile, Size: good.Size, EdgeDepth: -1},
		"depth NaN":      {Kind: Tile, Size: good.Size, EdgeDepth: nan},
		"depth infinite": {Kind: Tile, Size: good.Size, EdgeDepth: MM(math.Inf(1))},
	} {
		t.Run(name, func(t *testing.T) { requireSentence(t, bad.Validate()) })
	}
}

func TestPanelInFiles(t *testing.T) {
	panel := Panel{Kind: Canvas, Size: Size{304.8, 406.4}, EdgeDepth: 38.1}
	data, err := json.Marshal(panel)
	require.NoError(t, err)
	require.JSONEq(t, `{"kind":"canvas","width_mm":304.8,"height_mm":406.4,"edge_depth_mm":38.1}`, string(data))
	var back Panel
	require.NoError(t, json.Unmarshal(data, &back))
	require.Equal(t, panel, back)

	for _, text := range []string{`{"kind":"tile","width":5}`, `[]`, `{"width_mm":"5"}`} {
		require.Error(t, json.Unmarshal([]byte(text), &back), text)
		require.Equal(t, panel, back, "a refused panel changes nothing")
	}
}
