package picture

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

// formatGolden is what a file shows by another program: testdata/goldens/README.md.
type formatGolden struct {
	Size      [2]int       `json:"size"`
	Tolerance float64      `json:"tolerance"` // of stored values, 0..1
	Block     int          `json:"block"`     // pixels on the side of one value; 0: one
	Samples   [][6]float64 `json:"samples"`   // x, y, stored red, green, blue, alpha, 0..1
}

func formatGoldens(t testing.TB) map[string]formatGolden {
	t.Helper()
	data, err := os.ReadFile("testdata/goldens/goldens.json")
	require.NoError(t, err)
	var all struct{ Files map[string]formatGolden }
	require.NoError(t, json.Unmarshal(data, &all))
	require.NotEmpty(t, all.Files)
	return all.Files
}

func sample(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/goldens/" + name)
	require.NoError(t, err)
	return data
}

// Every format against another program's decoder and colour management.
// Source: Pillow 9.4.0 with littlecms 2.14, libwebp 1.2.4 and libtiff 4.5.0, by the
// script beside the files.
func TestFilesShowWhatAnotherProgramShows(t *testing.T) {
	for name, golden := range formatGoldens(t) {
		t.Run(name, func(t *testing.T) {
			p, err := Decode(context.Background(), sample(t, name), Limits{})
			require.NoError(t, err)
			block := max(1, golden.Block)
			w, h := p.Size(Turn{})
			require.Equal(t, golden.Size, [2]int{w / block, h / block})
			for _, paper := range []colour.Stored{{}, {R: 200, G: 120, B: 40}} {
				rgb, err := p.RGB(context.Background(), Turn{}, paper)
				require.NoError(t, err)
				under := paper.Linear()
				for _, s := range golden.Samples {
					a := s[5]
					over := colour.Linear{R: colour.Decode(s[2]), G: colour.Decode(s[3]), B: colour.Decode(s[4])}
					want := colour.Mix(under, over, a)
					px := rgb.Row(int(s[1])*block + block/2)[3*(int(s[0])*block+block/2):]
					for c, want := range []float64{want.R, want.G, want.B} {
						got := float64(px[c]) / full
						if math.Abs(got-want) > 1.01/full { // the last of the plane's own 16 bits
							require.InDelta(t, colour.Encode(want), colour.Encode(got), golden.Tolerance, "%v channel %d", s, c)
						}
					}
				}
			}
		})
	}
}
