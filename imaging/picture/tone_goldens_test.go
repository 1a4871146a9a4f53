package picture

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// toneScene is the picture of testdata/goldens/tone/make_tone_goldens.py.
func toneScene(w, h, larger int) *plane.Grey16 {
	return lightFrom(w, h, func(x, y int) uint16 {
		grain := (x*x*7919 + y*y*10473 + x*y*3571 + 12345) % 65536 % 3000
		if larger > 1 {
			grain = 0
		}
		squares := (x/(16*larger) + y/(16*larger)) % 2
		return uint16(6000 + 220*x/larger + 90*y/larger + 8000*squares + grain)
	})
}

func lightFrom(w, h int, value func(x, y int) uint16) *plane.Grey16 {
	g := plane.NewGrey16(w, h)
	for i := range g.Pix {
		g.Pix[i] = value(i%w, i/w)
	}
	return g
}

// toneGolden reads a picture of the goldens, row by row.
func toneGolden(t *testing.T, name string, w, h int) []float64 {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "goldens", "tone", name))
	require.NoError(t, err)
	defer file.Close()
	lines := bufio.NewScanner(file)
	lines.Buffer(nil, 1<<20)
	var values []float64
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		for _, field := range strings.Split(lines.Text(), ",") {
			v, err := strconv.ParseFloat(field, 64)
			require.NoError(t, err)
			values = append(values, v)
		}
	}
	require.NoError(t, lines.Err())
	require.Len(t, values, w*h)
	return values
}

func lstarOf(v float64) float64 { return colour.LStar(v / full) }

// apart gives the largest and the mean difference of two lists, as seen through a
// function, leaving out a margin of pixels.
func apart(want []float64, got *plane.Grey16, margin int, seen func(float64) float64) (most, mean float64) {
	n := 0
	for y := margin; y < got.H-margin; y++ {
		for x := margin; x < got.W-margin; x++ {
			d := math.Abs(seen(math.Min(math.Max(want[y*got.W+x], 0), full)) - seen(float64(got.Row(y)[x])))
			most = math.Max(most, d)
			mean += d
			n++
		}
	}
	return most, mean / float64(n)
}

func plain(v float64) float64 { return v }
