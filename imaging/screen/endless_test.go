package screen

import (
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
)

// everyScreen is all kinds that give greys, both ways round where that matters.
func everyScreen() (all []Options) {
	for _, k := range Kinds() {
		switch {
		case k == Threshold:
		case k.Uses().Direction:
			all = append(all, Options{Kind: k}, Options{Kind: k, OneWay: true})
		case k == Bayer:
			for _, n := range []int{2, 4, 8, 16} {
				all = append(all, Options{Kind: k, Matrix: n})
			}
		case k == Clustered:
			all = append(all, Options{Kind: k}, Options{Kind: k, AngleDegrees: 45, LinesPerCM: 20, Pitch: 0.08},
				Options{Kind: k, AngleDegrees: 15, LinesPerCM: 31, Pitch: 0.08}, Options{Kind: k, Spot: Line, AngleDegrees: 45})
		default:
			all = append(all, Options{Kind: k}, Options{Kind: k, Seed: 7})
		}
	}
	return all
}

func (o Options) label() string {
	return fmt.Sprintf("%s one way %t matrix %d %g lines %g degrees %s seed %d", o.Kind, o.OneWay, o.Matrix, o.LinesPerCM, o.AngleDegrees, o.Spot, o.Seed)
}

// share is what burns in a part of a raster: dots or, for a screen that counts what
// burns, cells.
func share(dots *plane.Bits, part image.Rectangle, o Options) float64 {
	burned := float64(dots.CountRect(part))
	if o.Kind == BeamAware {
		burned = defaultCells().Burned(dots, part)
	}
	return burned / float64(part.Dx()*part.Dy())
}

func TestEveryScreenKeepsEveryTint(t *testing.T) {
	const size, rim = 6*66 + 2*16, 16 // inside the rim a whole number of cells of 6 dots
	for _, o := range everyScreen() {
		t.Run(o.label(), func(t *testing.T) {
			worst := 0.0
			for percent := 2; percent <= 98; percent++ {
				if percent%2 == 1 && percent%17 > 1 && percent%33 != 0 { // of the odd ones those next to lasting patterns
					continue
				}
				tint := float64(percent) / 100
				dots := mustScreen(t, even16(size, size, tint), o)
				got := share(dots, image.Rect(rim, rim, size-rim, size-rim), o)
				worst = max(worst, math.Abs(got-tint))
				require.InDelta(t, tint, got, 0.002)
			}
			t.Logf("off by %.3f %% at worst", 100*worst)
		})
	}
}

// An even tint of 5 % has its share of dots from the first rows and columns on.
func TestNoScreenStartsWithAVoid(t *testing.T) {
	const size = 320
	top, left, right := image.Rect(0, 0, size, 32), image.Rect(0, 0, 32, size), image.Rect(size-32, 0, size, size)
	for _, o := range everyScreen() {
		t.Run(o.label(), func(t *testing.T) {
			dots := mustScreen(t, even16(size, size, 0.05), o)
			mean := float64(dots.Count()) / (size * size)
			for name, part := range map[string]image.Rectangle{"top": top, "left": left, "right": right} {
				got := float64(dots.CountRect(part)) / float64(part.Dx()*part.Dy())
				require.InDelta(t, 1, got/mean, 0.15, name)
			}
		})
	}
}

// Left plain, the void is there: the check above can fail.
func TestPlainScreensStartWithAVoid(t *testing.T) {
	const size = 320
	for _, k := range []Kind{FloydSteinberg, JarvisJudiceNinke, Stucki} {
		dots := mustScreen(t, even16(size, size, 0.05), Options{Kind: k, Plain: true})
		mean := float64(dots.Count()) / (size * size)
		require.Less(t, float64(dots.CountRect(image.Rect(0, 0, size, 16)))/(16*size), 0.8*mean, k)
	}
}

// Worms and rows of dots at the start show as rows with many more dots than others.
// In each band of eight rows from the top there are about as many as further down.
func TestFirstRowsLookLikeAllOthers(t *testing.T) {
	const size = 320
	for _, k := range Kinds() {
		if !k.Uses().Direction {
			continue
		}
		t.Run(string(k), func(t *testing.T) {
			dots := mustScreen(t, even16(size, size, 0.05), Options{Kind: k})
			counts := make([]float64, size/8)
			mean := 0.0
			for i := range counts {
				counts[i] = float64(dots.CountRect(image.Rect(0, 8*i, size, 8*i+8)))
				mean += counts[i] / float64(len(counts))
			}
			for i := range 4 {
				require.InDelta(t, 1, counts[i]/mean, 0.2, "rows from %d", 8*i)
			}
			most := 0
			for y := range 8 {
				most = max(most, dots.CountRect(image.Rect(0, y, size, y+1)))
			}
			require.Less(t, float64(most), 3*mean/8, "no row of the first takes the dots of many")
		})
	}
}

// A picture with a white border begins inside it.
func TestTintUnderAWhiteBorderHasNoVoid(t *testing.T) {
	const size, white = 320, 40
	for _, k := range Kinds() {
		if !k.Uses().Direction {
			continue
		}
		t.Run(string(k), func(t *testing.T) {
			tints := even16(size, size, 0.05)
			clear(tints.Pix[:white*size])
			dots := mustScreen(t, tints, Options{Kind: k})
			require.Zero(t, dots.CountRect(image.Rect(0, 0, size, white)))
			mean := float64(dots.CountRect(image.Rect(0, 120, size, size))) / (200 * size)
			got := float64(dots.CountRect(image.Rect(0, white, size, white+32))) / (32 * size)
			require.InDelta(t, 1, got/mean, 0.15)
		})
	}
}

func TestSeedsChooseAmongEquals(t *testing.T) {
	for _, k := range Kinds() {
		tints := even16(200, 200, 0.3)
		a, b := mustScreen(t, tints, Options{Kind: k}), mustScreen(t, tints, Options{Kind: k, Seed: 1})
		if !k.Uses().Seed {
			require.Equal(t, a, b, k)
			continue
		}
		require.NotEqual(t, a, b, k)
		part := image.Rect(16, 16, 184, 184)
		require.InDelta(t, share(a, part, Options{Kind: k}), share(b, part, Options{Kind: k}), 0.005, k)
	}
}

// Chance is even, and has both signs.
func TestChance(t *testing.T) {
	const n, most = 20000, 1000
	sum, square := 0.0, 0.0
	for i := range n {
		v := chance(3, i, most)
		require.LessOrEqual(t, v, int32(most))
		require.GreaterOrEqual(t, v, int32(-most))
		sum += float64(v)
		square += float64(v) * float64(v)
	}
	require.InDelta(t, 0, sum/n, 20, "five standard errors")
	require.InDelta(t, most/math.Sqrt(3), math.Sqrt(square/n), 20)
	require.NotEqual(t, chance(3, 1, most), chance(4, 0, most))
}

// Errors at the start lie where those of a settled screen do: a tint of 0 must not
// burn, and one of all must.
func TestSettledErrorsAreAllowed(t *testing.T) {
	for _, tint := range []uint16{0, 1, 20000, 32767, 65534, 65535} {
		level := settled(tint)
		reach := half - 1 - max(level, -level)
		require.Positive(t, reach)
		require.Less(t, level+reach, int32(half))
		require.GreaterOrEqual(t, level-reach, int32(-half))
	}
}
