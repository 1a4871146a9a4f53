package resample

import (
	"bufio"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/layout"
)

const goldens = "../../testdata/goldens"

// Source: Pillow 9.4.0, Image.resize with LANCZOS and a box, 32-bit floats; the
// values stand in lanczos_pixels.csv beside the script that made them. Pillow
// keeps 64-bit sums and 32-bit floats between the axes, so the rounding to 16 bits
// and a hundredth or two for the 32-bit products here are all that lies between.
// Where the kernel reaches past the picture Pillow leaves its weights out and
// this package goes on with the edge pixels: those are not compared.
func TestToSizeAgreesWithPillow(t *testing.T) {
	const apart = 0.52
	src := filled(61, 47, rough)
	file, err := os.Open(filepath.Join(goldens, "lanczos_pixels.csv"))
	require.NoError(t, err)
	defer file.Close()
	lines := bufio.NewScanner(file)
	lines.Buffer(nil, 1<<20)
	cases, compared := 0, 0
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		v := numbers(t, lines.Text())
		crop, cols, rows, want := layout.Crop{X: v[0], Y: v[1], W: v[2], H: v[3]}, int(v[4]), int(v[5]), v[6:]
		out, err := ToSize(context.Background(), src, crop, cols, rows)
		require.NoError(t, err)
		require.Len(t, want, cols*rows)
		across, down := newTaps(crop.X, crop.W, cols), newTaps(crop.Y, crop.H, rows)
		inside := func(t taps, i, size int) bool {
			first, last := int(t.first[i]), int(t.first[i])
			for k, w := range t.weight[i*t.n : (i+1)*t.n] {
				if math.Abs(float64(w)) > 1e-7 {
					last = int(t.first[i]) + k
				}
			}
			return first >= 0 && last < size
		}
		for y := range rows {
			for x := range cols {
				if !inside(across, x, src.W) || !inside(down, y, src.H) {
					continue
				}
				clamped := math.Min(math.Max(want[y*cols+x], 0), 65535)
				require.InDelta(t, clamped, out.Row(y)[x], apart, "crop %v, pixel %d,%d", crop, x, y)
				compared++
			}
		}
		cases++
	}
	require.NoError(t, lines.Err())
	require.Equal(t, 6, cases)
	require.Greater(t, compared, 4000)
}

func numbers(t *testing.T, line string) []float64 {
	t.Helper()
	var out []float64
	for _, field := range strings.Split(line, ",") {
		v, err := strconv.ParseFloat(field, 64)
		require.NoError(t, err)
		out = append(out, v)
	}
	return out
}

// The chain from a picture file to tints, against Pillow and numpy: decode,
// orientation, linear light, luminance, transparency, crop, size. The block means
// may differ by a hundredth of full scale; what is measured lies far below, and
// most of it is how the JPEG's colour is brought to full size.
// Source: chain_*.json beside the script that made them.
func TestTheChainAgreesWithItsGoldens(t *testing.T) {
	const apart = 0.01
	for _, name := range []string{"chain_rose_smaller", "chain_rose_larger", "chain_dunes"} {
		t.Run(name, func(t *testing.T) {
			var golden struct {
				Picture     string
				PictureSize [2]int `json:"picture_size"`
				Paper       colour.Stored
				Crop        layout.Crop
				Cols, Rows  int
				Block       int
				Means       [][]float64
			}
			text, err := os.ReadFile(filepath.Join(goldens, name+".json"))
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(text, &golden))
			data, err := os.ReadFile(filepath.Join(goldens, golden.Picture))
			require.NoError(t, err)
			p, err := picture.Decode(context.Background(), data, picture.Limits{})
			require.NoError(t, err)
			grey, err := p.Grey(context.Background(), picture.Turn{}, golden.Paper)
			require.NoError(t, err)
			require.Equal(t, golden.PictureSize, [2]int{grey.W, grey.H})
			tints, err := ToSize(context.Background(), grey, golden.Crop, golden.Cols, golden.Rows)
			require.NoError(t, err)

			require.Len(t, golden.Means, golden.Rows/golden.Block)
			worst := 0.0
			for by, row := range golden.Means {
				require.Len(t, row, golden.Cols/golden.Block)
				for bx, want := range row {
					sum := 0.0
					for y := range golden.Block {
						for _, v := range tints.Row(by*golden.Block + y)[bx*golden.Block:][:golden.Block] {
							sum += float64(v) / 65535
						}
					}
					got := sum / float64(golden.Block*golden.Block)
					require.InDelta(t, want, got, apart, "block %d,%d", bx, by)
					worst = math.Max(worst, math.Abs(got-want))
				}
			}
			t.Logf("furthest apart: %.5f of full scale", worst)
		})
	}
}
