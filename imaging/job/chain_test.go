package job_test

import (
	"bytes"
	"encoding/json"
	"image"
	"image/png"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/layout"
)

// chainGolden is a chain_*.json: picture file to tints to dots, worked out without
// this program by the script beside it.
type chainGolden struct {
	Picture    string
	Paper      colour.Stored
	Crop       layout.Crop
	Cols, Rows int
	Block      int
	Means      [][]float64 // mean tint of each block
	Burned     [][]float64 // burned share of each block, after an error diffusion of the script's own
}

func readChain(t *testing.T, name string) chainGolden {
	t.Helper()
	var g chainGolden
	require.NoError(t, json.Unmarshal(golden(t, name+".json"), &g))
	require.Len(t, g.Means, g.Rows/g.Block)
	require.Len(t, g.Burned, g.Rows/g.Block)
	return g
}

// job is a job whose raster is the golden's: a tenth of a millimetre a dot.
func (g chainGolden) job(t *testing.T, oneWay bool) *job.Job {
	t.Helper()
	d := byLight(plain(t, layout.MM(g.Cols)/10, layout.MM(g.Rows)/10, 0.1))
	d.Picture.UnderClear = g.Paper
	d.Screen.OneWay, d.Screen.Plain = oneWay, true // the goldens are the textbook's dots
	j := withPicture(t, d, g.Picture, golden(t, g.Picture))
	j.Document.Picture.Crop = g.Crop
	return j
}

// deviation tells how far the blocks of a raster are from wanted shares; side is
// the number of golden blocks on a compared block's side.
func (g chainGolden) deviation(t *testing.T, r *image.Gray, want [][]float64, side int) (mean, worst float64) {
	t.Helper()
	dots := g.Block * side
	n := 0
	for y := 0; y+side <= len(want); y += side {
		require.Len(t, want[y], g.Cols/g.Block)
		for x := 0; x+side <= len(want[y]); x += side {
			wanted := 0.0
			for _, row := range want[y : y+side] {
				for _, v := range row[x : x+side] {
					wanted += v / float64(side*side)
				}
			}
			at := image.Pt(x*g.Block, y*g.Block)
			off := math.Abs(burned(r, image.Rect(0, 0, dots, dots).Add(at)) - wanted)
			mean += off
			worst = math.Max(worst, off)
			n++
		}
	}
	return mean / float64(n), worst
}

// The whole way from a picture file to raster.png, against Pillow, numpy and an
// error diffusion in plain floating point: the share of burned dots in each block
// of 32 x 32 is its mean tint within a hundredth of full scale.
//
// What is left is not the chain's: an error diffusion hands up to half a dot over
// each edge dot to the next block. The script's own, of the golden's exact tints,
// leaves as much, and over blocks of twice the side it halves, as an edge does.
//
// Source: chain_*.json and README.md in testdata/goldens, Pillow 9.4.0, numpy 1.24.2.
func TestRasterAgreesWithTheGoldens(t *testing.T) {
	for _, c := range []struct {
		name   string
		oneWay bool
		worst  float64
	}{
		{"chain_rose_smaller", false, 0.01},
		{"chain_rose_larger", false, 0.01},
		{"chain_dunes", false, 0.01},
		{"chain_rose_smaller", true, 0.01},
		{"chain_rose_larger", true, 0.01},
		// One way the errors run down one slant and more of them cross a block's edge:
		// one block of 600, on the hard rim of the sun, is 12 dots of 1024 off.
		{"chain_dunes", true, 0.0125},
	} {
		name := c.name + ", to and fro"
		if c.oneWay {
			name = c.name + ", one way"
		}
		t.Run(name, func(t *testing.T) {
			g := readChain(t, c.name)
			dir, _ := prepared(t, g.job(t, c.oneWay), job.RasterOutput)
			r := raster(t, dir)
			require.Equal(t, image.Rect(0, 0, g.Cols, g.Rows), r.Bounds())

			mean, worst := g.deviation(t, r, g.Means, 1)
			require.Less(t, worst, c.worst)
			require.Less(t, mean, 0.003)
			mean2, worst2 := g.deviation(t, r, g.Means, 2)
			require.Less(t, worst2, 0.005)
			require.Less(t, mean2, 0.0015)
			meanDots, worstDots := g.deviation(t, r, g.Burned, 1)
			require.Less(t, worstDots, 0.0125)
			require.Less(t, meanDots, 0.003)
			t.Logf("blocks of 32: mean %.5f, worst %.5f; of 64: mean %.5f, worst %.5f; from the golden's dots: mean %.5f, worst %.5f",
				mean, worst, mean2, worst2, meanDots, worstDots)
		})
	}
}

// Where nothing blurs the comparison, which a JPEG's halved colour does, the raster
// is the golden's dot for dot through the rows in which no tint falls within a
// rounding error of a threshold; after the first such tint the errors take another
// way. Source: dots_rose_smaller.png in testdata/goldens.
func TestRasterIsTheGoldenDotForDot(t *testing.T) {
	g := readChain(t, "chain_rose_smaller")
	dir, _ := prepared(t, g.job(t, false), job.RasterOutput)
	got := raster(t, dir)
	img, err := png.Decode(bytes.NewReader(golden(t, "dots_rose_smaller.png")))
	require.NoError(t, err)
	want, ok := img.(*image.Gray)
	require.True(t, ok)
	require.Equal(t, want.Bounds(), got.Bounds())

	same, sameRows := 0, 0
	for y := range g.Rows {
		before := same
		for x := range g.Cols {
			if got.GrayAt(x, y) == want.GrayAt(x, y) {
				same++
			}
		}
		if same-before == g.Cols && sameRows == y {
			sameRows++
		}
	}
	t.Logf("the first %d of %d rows are the same, and %.1f %% of all dots", sameRows, g.Rows, 100*float64(same)/float64(g.Cols*g.Rows))
	require.GreaterOrEqual(t, sameRows, 90)
	require.Greater(t, float64(same)/float64(g.Cols*g.Rows), 0.95)
}
