package burn_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
)

// lit is a raster drawn in text, # for a burned dot.
func lit(rows ...string) *plane.Bits {
	b := plane.NewBits(len(rows[0]), len(rows))
	for y, row := range rows {
		for x, c := range row {
			if c == '#' {
				b.Set(x, y)
			}
		}
	}
	return b
}

func shares(src burn.Source, y int) []float32 {
	w, _ := src.Size()
	row := make([]float32, w)
	for i := range row {
		row[i] = -1
	}
	src.ShareRow(y, row)
	return row
}

func TestOneBit(t *testing.T) {
	src := burn.OneBit(lit("..........", "#..#....##"))
	w, h := src.Size()
	require.Equal(t, []int{10, 2}, []int{w, h})
	require.Equal(t, make([]float32, 10), shares(src, 0))
	require.Equal(t, []float32{1, 0, 0, 1, 0, 0, 0, 0, 1, 1}, shares(src, 1))
}

func TestEightBit(t *testing.T) {
	g := plane.NewGrey16(6, 1)
	copy(g.Pix, []uint16{0, 128, 129, 32768, 65406, 65535})
	require.Equal(t, []float32{0, 0, 1. / 255, 128. / 255, 254. / 255, 1}, shares(burn.EightBit(g), 0),
		"65406 lies 0.498 of a step above 254")
}

func TestSteps(t *testing.T) {
	src, err := burn.Steps(burn.Step{Dots: lit("#.#"), Share: 0.25}, burn.Step{Dots: lit("##."), Share: 0.5})
	require.NoError(t, err)
	w, h := src.Size()
	require.Equal(t, []int{3, 1}, []int{w, h})
	require.Equal(t, []float32{0.75, 0.5, 0.25}, shares(src, 0))

	for name, c := range map[string]struct {
		steps []burn.Step
		want  string
	}{
		"none":     {nil, "no steps to burn"},
		"sizes":    {[]burn.Step{{lit("#"), 1}, {lit("##"), 1}}, "step 2 is 2 x 1 dots and step 1 is 1 x 1"},
		"no share": {[]burn.Step{{lit("#"), 0}}, "step 1 has a share 0 of the light: give above 0 and up to 1"},
		"over":     {[]burn.Step{{lit("#"), 1.5}}, "share 1.5"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := burn.Steps(c.steps...)
			require.ErrorContains(t, err, c.want)
		})
	}
}
