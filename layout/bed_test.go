package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFits(t *testing.T) {
	grid := Grid{Cols: 4000, Rows: 3000, Pitch: 0.1}
	travel := Travel(grid, 5)
	require.InDelta(t, 410, float64(travel.W), 1e-9)
	require.InDelta(t, 300, float64(travel.H), 1e-9)
	for _, test := range []struct {
		name string
		bed  Bed
		fits bool
		why  string
	}{
		{"room to spare", Bed{W: 500, H: 500}, true, ""},
		{"to the edge", Bed{W: 410, H: 300}, true, ""},
		{"run-up too long", Bed{W: 400, H: 400}, false, "the head travels 410 x 300 mm with its run-up but the bed is 400 x 400 mm: choose a smaller panel or a wider border, or burn it in sections"},
		{"lines too many", Bed{W: 500, H: 299}, false, "or burn it in sections"},
		{"turned", Bed{W: 300, H: 410}, false, "a quarter turn round"},
		{"no bed", Bed{}, false, "the bed is 0 x 0 mm"},
		{"bed NaN", Bed{W: MM(math.NaN()), H: 500}, false, "the bed is NaN x 500 mm"},
	} {
		t.Run(test.name, func(t *testing.T) {
			fits, why := Fits(travel, test.bed)
			require.Equal(t, test.fits, fits)
			require.Contains(t, why, test.why)
			require.Equal(t, fits, why == "")
		})
	}
}
