package screen

import (
	"bufio"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const published = "../../testdata/published/"

// numberRows reads a CSV file of names or numbers, without its notes and heading.
func numberRows(t *testing.T, name string) (rows [][]string) {
	file, err := os.Open(published + name)
	require.NoError(t, err)
	defer file.Close()
	heading := true
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		if !heading {
			rows = append(rows, strings.Split(lines.Text(), ","))
		}
		heading = false
	}
	require.NotEmpty(t, rows)
	return rows
}

func number(t *testing.T, text string) int {
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}

var kernels = map[Kind]kernel{
	FloydSteinberg:    floydSteinbergKernel,
	JarvisJudiceNinke: jarvisJudiceNinkeKernel,
	Stucki:            stuckiKernel,
	Burkes:            burkesKernel,
	Sierra:            sierraKernel,
	SierraTwoRow:      sierraTwoRowKernel,
	SierraLite:        sierraLiteKernel,
	Atkinson:          atkinsonKernel,
}

// part is what goes dx dots on and dy rows down.
func (k kernel) part(dx, dy int) int64 {
	switch {
	case dx < -reach || dx > reach || dy < 0 || dy > 2 || dy == 0 && dx <= 0:
		return 0
	case dy == 0:
		return k.ahead[dx-1]
	}
	return k.below[dy-1][dx+reach]
}

// Sources: Floyd and Steinberg 1976 (7 3 5 1 of 16); Jarvis, Judice and Ninke 1976
// (of 48); Stucki 1981 (of 42); Burkes 1988 (of 32); Sierra 1989 (three rows, of 32),
// 1990 (two rows, of 16; lite, of 4); Atkinson, 1980s (six of 8). Where each was read
// stands in the file.
func TestKernelsAreAsPublished(t *testing.T) {
	found := map[Kind]int{}
	sum := map[Kind]int64{}
	for _, row := range numberRows(t, "screen_error_diffusion_kernels.csv") {
		kind := Kind(row[0])
		k, known := kernels[kind]
		require.True(t, known, kind)
		dx, dy, part := number(t, row[1]), number(t, row[2]), int64(number(t, row[3]))
		require.Equal(t, part, k.part(dx, dy), "%s: %d on, %d down", kind, dx, dy)
		require.EqualValues(t, number(t, row[4]), k.of, kind)
		found[kind]++
		sum[kind] += part
	}
	require.Len(t, found, len(kernels))
	for kind, k := range kernels {
		parts := 0
		for dy := range 3 {
			for dx := -reach; dx <= reach; dx++ {
				if k.part(dx, dy) != 0 {
					parts++
				}
			}
		}
		require.Equal(t, found[kind], parts, "%s has parts that its publication has not", kind)
		whole := k.of
		if kind == Atkinson {
			whole = 6 // of 8: a quarter is lost by design
		}
		require.Equal(t, whole, sum[kind], kind)
	}
}

// The plain reading of the papers: the whole plane held at once, each part thrown
// forward to where it falls, a row that runs to the left mirrored. Spread gathers
// instead; both keep parts in 1/2^32 of a fine tint and round once a dot.
func TestSpreadGathersWhatKernelsThrow(t *testing.T) {
	for kind, k := range kernels {
		t.Run(string(kind), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				w, h := rapid.IntRange(1, 30).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h")
				oneWay := rapid.Bool().Draw(t, "one way")
				tint := rapid.OneOf(rapid.Uint16(), rapid.SampledFrom([]uint16{0, 1, 32767, 32768, 65534, 65535}))
				due := make([]int64, w*(h+2))
				s := newSpread(w, 0, k, Options{OneWay: oneWay})
				for y := range h {
					tints := make([]uint16, w)
					for x := range tints {
						tints[x] = tint.Draw(t, "tint")
					}
					x, step := 0, 1
					if !oneWay && y%2 == 1 {
						x, step = w-1, -1
					}
					want := make([]byte, (w+7)/8)
					for range w {
						v := int64(tints[x])<<fine + due[y*w+x]>>unit
						if v >= half {
							want[x>>3] |= 0x80 >> (x & 7)
							v -= full
						}
						for dy := range 3 {
							for dx := -reach; dx <= reach; dx++ {
								if to := x + dx*step; to >= 0 && to < w {
									due[(y+dy)*w+to] += k.part(dx, dy) * (1 << unit / k.of) * v
								}
							}
						}
						x += step
					}
					got := make([]byte, len(want))
					s.Row(tints, got)
					require.Equal(t, fmt.Sprintf("%08b", want), fmt.Sprintf("%08b", got), "row %d", y)
				}
			})
		})
	}
}

// What the fast loop of the usual screen and the general one give differs in
// rounding only: nearly all dots are the same.
func TestUsualScreenIsItsKernel(t *testing.T) {
	const w, h = 64, 64
	fast, general := newFloydSteinberg(w, Options{}), newSpread(w, 0, floydSteinbergKernel, Options{})
	tints, a, b := make([]uint16, w), make([]byte, w/8), make([]byte, w/8)
	different := 0
	for y := range h {
		for x := range tints {
			tints[x] = uint16(x*517 + y*y*131)
		}
		fast.Row(tints, a)
		general.Row(tints, b)
		for i := range a {
			different += burnedIn([]byte{a[i] ^ b[i]})
		}
	}
	require.Less(t, different, w*h/100)
}
