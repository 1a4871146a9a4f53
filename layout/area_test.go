package layout

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPointInFiles(t *testing.T) {
	data, err := json.Marshal([]Point{{-125.5, 3}})
	require.NoError(t, err)
	require.Equal(t, "[[-125.5,3]]", string(data))
	var back []Point
	require.NoError(t, json.Unmarshal(data, &back))
	require.Equal(t, []Point{{-125.5, 3}}, back)
	require.ErrorContains(t, json.Unmarshal([]byte("[[1]]"), &back), "[x, y]")
}
