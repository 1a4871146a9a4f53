package fit

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
)

func TestRangeCovers(t *testing.T) {
	random := rand.New(rand.NewPCG(51, 1))
	w := newWorld(t, threeCoats(), aMachine())
	all := append(settings(25, 0.08, 1, powers(6, 60, 6)...), settings(50, 0.1, 2, powers(6, 60, 6)...)...)
	r := fitOf(t, w.stack, w.read(t, random, 0.5, 1, all...)).Range
	require.Equal(t, [2]float64{1500, 3000}, r.SpeedMMPerMin)
	require.Equal(t, [2]int{1, 2}, r.Passes)
	for _, c := range []struct {
		name string
		s    burn.Setting
		want string
	}{
		{"in the midst", burn.Setting{PowerPercent: 30, Speed: 30, Pitch: 0.09, Passes: 1}, ""},
		{"at the edges", burn.Setting{PowerPercent: 60, Speed: 50, Pitch: 0.1, Passes: 2}, ""},
		{"less power", burn.Setting{PowerPercent: 1, Speed: 25, Pitch: 0.08, Passes: 1}, ""},
		{"more power", burn.Setting{PowerPercent: 70, Speed: 25, Pitch: 0.08, Passes: 1}, "power 70 % (the chart has up to 60)"},
		{"faster", burn.Setting{PowerPercent: 30, Speed: 60, Pitch: 0.08, Passes: 1}, "speed 3600 mm/min (the chart has 1500 to 3000)"},
		{"finer", burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.05, Passes: 1}, "pitch 0.05 mm (the chart has 0.08 to 0.1)"},
		{"more passes", burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.08, Passes: 3}, "passes 3 (the chart has 1 to 2)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := r.Covers(c.s)
			if c.want == "" {
				require.Empty(t, got)
				return
			}
			require.Contains(t, got, c.want)
			require.Contains(t, got, "an equal dose need not be an equal burn")
		})
	}
}
