package screen

import (
	"fmt"
	"image"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
)

// shortRuns lists the runs of a raster that are shorter than asked for. A gap that
// ends at an edge goes on beyond it.
func shortRuns(dots *plane.Bits, minDot, minGap int) (short []string) {
	for y := range dots.H {
		start := 0
		for x := 1; x <= dots.W; x++ {
			if x < dots.W && dots.At(x, y) == dots.At(start, y) {
				continue
			}
			length, burns := x-start, dots.At(start, y)
			atEdge := start == 0 || x == dots.W
			if burns && length < minDot || !burns && length < minGap && !atEdge {
				short = append(short, fmt.Sprintf("row %d from %d: %d dots, burned %t", y, start, length, burns))
			}
			start = x
		}
	}
	return short
}

var withRuns = []Kind{FloydSteinberg, BeamAware, JarvisJudiceNinke, Stucki, Burkes, Sierra, SierraTwoRow, SierraLite, Atkinson}

func TestRunsAreLongEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tints := plane.NewGrey16(rapid.IntRange(1, 50).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h"))
		for i := range tints.Pix {
			tints.Pix[i] = rapid.Uint16Range(1, 65534).Draw(t, "tint")
		}
		least := rapid.SampledFrom([][2]int{{2, 2}, {3, 0}, {1, 5}, {7, 3}}).Draw(t, "least dots and gaps")
		o := Options{
			Kind: rapid.SampledFrom(withRuns).Draw(t, "kind"), OneWay: rapid.Bool().Draw(t, "one way"), Plain: rapid.Bool().Draw(t, "plain"),
			MinDot: least[0], MinGap: least[1],
		}
		require.Empty(t, shortRuns(mustScreen(t, tints, o), o.MinDot, o.MinGap))
	})
}

// In pictures with pure tints a run is short only where those leave it no room.
func TestPureTintsComeBeforeRuns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const minDot, minGap = 3, 2
		tints := plane.NewGrey16(rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 8).Draw(t, "h"))
		for i := range tints.Pix {
			tints.Pix[i] = rapid.SampledFrom([]uint16{0, 65535, 9000, 30000, 50000}).Draw(t, "tint")
		}
		dots := mustScreen(t, tints, Options{Kind: rapid.SampledFrom(withRuns).Draw(t, "kind"), MinDot: minDot, MinGap: minGap})
		for y := range tints.H {
			row := tints.Row(y)
			for x, v := range row {
				if v == 0 || v == 65535 {
					require.Equal(t, v == 65535, dots.At(x, y))
				}
			}
			for x := range row {
				starts := dots.At(x, y) && (x == 0 || !dots.At(x-1, y))
				if !starts {
					continue
				}
				end, full := x, false
				for end < len(row) && dots.At(end, y) {
					full = full || row[end] == 65535
					end++
				}
				require.True(t, end-x >= minDot || full, "row %d from %d to %d holds no dot that must burn", y, x, end)
			}
		}
	})
}

func TestRunsKeepTints(t *testing.T) {
	const size, rim = 320, 16
	for _, kind := range withRuns {
		for _, runs := range [][2]int{{2, 2}, {3, 1}, {1, 3}, {4, 4}} {
			if kind == Atkinson && runs != [2]int{2, 2} {
				continue // below
			}
			t.Run(fmt.Sprintf("%s %v", kind, runs), func(t *testing.T) {
				for _, tint := range []float64{0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98} {
					o := Options{Kind: kind, MinDot: runs[0], MinGap: runs[1]}
					dots := mustScreen(t, even16(size, size, tint), o)
					require.InDelta(t, tint, share(dots, image.Rect(rim, rim, size-rim, size-rim), o), 0.002)
				}
			})
		}
	}
}

// With runs of unlike lengths Atkinson's filter locks into patterns that its tints
// can be made up for less closely.
func TestAtkinsonWithRunsNearlyKeepsTints(t *testing.T) {
	for _, runs := range [][2]int{{3, 1}, {1, 3}, {4, 4}} {
		for _, tint := range []float64{0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98} {
			o := Options{Kind: Atkinson, MinDot: runs[0], MinGap: runs[1]}
			got := share(mustScreen(t, even16(320, 320, tint), o), image.Rect(16, 16, 304, 304), o)
			require.InDelta(t, tint, got, 0.005, "%v at %g", runs, tint)
		}
	}
}
