package proof

import (
	"context"
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// sample is a made-up recipe with a full dose of 100 J/cm2.
func sample(beam, pitch layout.MM) Recipe {
	return Recipe{
		Stack: coat.Stack{
			Coats: []coat.Coat{
				{Colour: colour.Stored{R: 0x2b, G: 0x2d, B: 0x30}, ThicknessUM: 25},
				{Colour: colour.Stored{R: 0xf0, G: 0x90, B: 0x20}, ThicknessUM: 25},
			},
			Ground: coat.Ground{Colour: colour.Stored{R: 0xf2, G: 0xef, B: 0xe6}},
			Curve: coat.Curve{
				Points: []coat.Point{{DoseJCM2: 20}, {DoseJCM2: 45, DepthUM: 25}, {DoseJCM2: 85, DepthUM: 50}},
				Spread: []float64{0.15, 0.12},
			},
		},
		Machine: burn.Machine{
			OpticalPowerW: 5, BeamAlong: beam, BeamAcross: beam * 1.2,
			Bed: layout.Size{W: 400, H: 400}, RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100,
		},
		Setting: burn.Setting{PowerPercent: 40, Speed: layout.MMPerSecond(25 * 0.08 / float64(pitch)), Pitch: pitch, Passes: 1},
	}
}

func randomDots(w, h int, share float64, seed uint64) *plane.Bits {
	random := rand.New(rand.NewPCG(seed, 1))
	bits := plane.NewBits(w, h)
	for y := range h {
		for x := range w {
			if random.Float64() < share {
				bits.Set(x, y)
			}
		}
	}
	return bits
}

func lookTable(t testing.TB, r Recipe) *coat.LookTable {
	m, err := r.Stack.Compile(r.Options)
	require.NoError(t, err)
	return m.Table()
}

// meansOfDots goes through the points of every dot of region and averages.
func meansOfDots(t testing.TB, r Recipe, bits *plane.Bits, region image.Rectangle) [][3]float32 {
	k := r.grid()
	sampled, err := newSampled(r, bits, lookTable(t, r), k)
	require.NoError(t, err)
	means := make([][3]float32, region.Dx()*region.Dy())
	err = sampled.rows(context.Background(), region, func(row int, looks [][3]float32) error {
		for x, l := range looks {
			m := &means[row/k*region.Dx()+x/k]
			for c := range l {
				m[c] += l[c] / float32(k*k)
			}
		}
		return nil
	})
	require.NoError(t, err)
	return means
}

// The quick way, by patterns of neighbours, against the plain one, point by
// point, for every beam that it is used with.
func TestCellsAgainstPointByPoint(t *testing.T) {
	used := 0
	for _, beam := range []layout.MM{0.03, 0.06, 0.08, 0.1, 0.12, 0.13, 0.15} {
		for _, share := range []float64{0.1, 0.5, 0.9} {
			t.Run(fmt.Sprintf("beam %.2f mm, %g %%", beam, 100*share), func(t *testing.T) {
				r := sample(beam, 0.08)
				near, err := newNeighbours(context.Background(), r)
				require.NoError(t, err)
				if near == nil {
					return
				}
				used++
				bits := randomDots(83, 61, share, 7)
				c, err := newCells(context.Background(), near, bits, lookTable(t, r), float32(r.FullDose()))
				require.NoError(t, err)
				for _, region := range []image.Rectangle{image.Rect(0, 0, 83, 61), image.Rect(13, 5, 14, 6), image.Rect(9, 60, 83, 61), image.Rect(82, 0, 83, 61)} {
					want := meansOfDots(t, r, bits, region)
					err := c.rows(context.Background(), region, func(row int, looks [][3]float32) error {
						for x, l := range looks {
							for i := range l {
								require.InDelta(t, want[row*region.Dx()+x][i], l[i], 0.0025, "dot %d, %d", x, row)
							}
						}
						return nil
					})
					require.NoError(t, err)
				}
			})
		}
	}
	require.Greater(t, used, 9, "the quick way must be in use for usual beams")
}

func TestPatternsAgainstDotByDot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom(neighbourhoods).Draw(t, "neighbourhood")
		n := &neighbours{side: size.side, above: size.above}
		n.fillSpread()
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 9).Draw(t, "h")
		bits := randomDots(w, h, 0.5, rapid.Uint64().Draw(t, "seed"))
		x0, y0 := rapid.IntRange(0, w-1).Draw(t, "x0"), rapid.IntRange(0, h-1).Draw(t, "y0")
		region := image.Rect(x0, y0, rapid.IntRange(x0+1, w).Draw(t, "x1"), rapid.IntRange(y0+1, h).Draw(t, "y1"))
		rows := 0
		err := n.rows(context.Background(), bits, region, func(row int, patterns []uint16) error {
			rows++
			for i, got := range patterns {
				want := 0
				for dx := -n.side; dx <= n.side; dx++ {
					for dy := -n.above; dy <= n.above; dy++ {
						want <<= 1
						if p := image.Pt(x0+i+dx, y0+row+dy); p.In(image.Rect(0, 0, w, h)) && bits.At(p.X, p.Y) {
							want |= 1
						}
					}
				}
				require.Equal(t, want, int(got))
			}
			return nil
		})
		require.NoError(t, err)
		require.Equal(t, region.Dy(), rows)
	})
}

func TestWideBeamsHaveNoPatterns(t *testing.T) {
	near, err := newNeighbours(context.Background(), sample(0.5, 0.05))
	require.NoError(t, err)
	require.Nil(t, near)
}

func TestOverlapsShareTheRowOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 300).Draw(t, "samples"), rapid.IntRange(1, 300).Draw(t, "pixels")
		whole, within := overlaps(n, m), overlapsWithin(0, float64(n), n, m)
		got := make([]float64, n) // how much each sample counts in all pixels
		for p, o := range whole {
			sum := 0.0
			for s := o.first; s <= o.last; s++ {
				w := o.weight(s)
				require.GreaterOrEqual(t, w, 0.0)
				sum += w
				got[s] += w * float64(n) / float64(m)
				require.InDelta(t, w, within[p].weightOrNone(s), 1e-5)
			}
			require.InDelta(t, 1, sum, 1e-5)
		}
		for s, v := range got {
			require.InDelta(t, 1, v, 1e-4, "sample %d", s)
		}
	})
}

func (o overlap) weightOrNone(s int) float64 {
	if s < o.first || s > o.last {
		return 0
	}
	return o.weight(s)
}

func TestOverlapsWithinAStretch(t *testing.T) {
	// Pixels of 1.5 samples from 0.25 on: 0.25..1.75, 1.75..3.25.
	all := overlapsWithin(0.25, 3, 5, 2)
	require.Equal(t, 0, all[0].first)
	require.Equal(t, 1, all[0].last)
	require.InDelta(t, 0.5, all[0].head, 1e-6)
	require.InDelta(t, 0.5, all[0].tail, 1e-6)
	require.Equal(t, 1, all[1].first)
	require.Equal(t, 3, all[1].last)
	require.InDelta(t, 0.25/1.5, all[1].head, 1e-6)
	require.InDelta(t, 1/1.5, all[1].inner, 1e-6)
	require.InDelta(t, 0.25/1.5, all[1].tail, 1e-6)
}

func TestAverageRow(t *testing.T) {
	samples := [][3]float32{{0, 1, 8}, {1, 1, 8}, {2, 1, 8}, {3, 1, 8}, {4, 1, 8}}
	means := make([][3]float32, 2)
	averageRow(overlaps(5, 2), samples, means)
	require.InDelta(t, (0+1+2*0.5)/2.5, means[0][0], 1e-6)
	require.InDelta(t, (2*0.5+3+4)/2.5, means[1][0], 1e-6)
	for _, m := range means {
		require.InDelta(t, 1, m[1], 1e-6)
		require.InDelta(t, 8, m[2], 1e-5)
	}
}

func TestTurningPoints(t *testing.T) {
	for name, c := range map[string]struct {
		lstar    []float64
		from, to int
	}{
		"rising":                  {[]float64{10, 20, 30, 40}, 0, 3},
		"falling":                 {[]float64{40, 30, 20}, 0, 2},
		"level":                   {[]float64{40, 40, 40}, 0, 2},
		"scatter is no turn":      {[]float64{10, 9.8, 20, 19.7, 30, 29.9}, 0, 5},
		"up, then down":           {[]float64{10, 50, 80, 60, 40}, 0, 2},
		"down, then further up":   {[]float64{50, 30, 20, 60, 90}, 2, 4},
		"the longest of three":    {[]float64{20, 30, 10, 90, 95, 40}, 2, 4},
		"back past the beginning": {[]float64{50, 60, 10}, 1, 2},
		"one tint":                {[]float64{50}, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			from, to := longestStretch(c.lstar)
			require.Equal(t, []int{c.from, c.to}, []int{from, to})
		})
	}
}

func TestCountKeepsTheMeanDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		doses := rapid.SliceOfN(rapid.Float32Range(0.001, 15), 1, 50).Draw(t, "doses")
		counts := make([]float64, nodes)
		count(doses, 3, counts)
		sum, mean, want := 0.0, 0.0, 0.0
		for i, c := range counts {
			require.GreaterOrEqual(t, c, 0.0)
			sum += c
			mean += c * float64(nodeDose(i))
		}
		for _, d := range doses {
			want += 3 * float64(d)
		}
		require.InDelta(t, float64(3*len(doses)), sum, 1e-6)
		require.InEpsilon(t, want, mean, 1e-5)
	})
	counts := make([]float64, nodes)
	count([]float32{0, 1e-9, 100, float32(math.Inf(1))}, 1, counts)
	require.Equal(t, 2.0, counts[0])
	require.Equal(t, 2.0, counts[nodes-1])
}

func TestTileHasTheSharesOfItsTint(t *testing.T) {
	for i := 0; i < tints; i += 5 {
		dots, region, err := screenTile(context.Background(), Recipe{}.Screen, i)
		require.NoError(t, err)
		require.True(t, region.In(image.Rect(tileRim, tileTop, dots.W-tileRim, dots.H-tileRim)))
		share := float64(dots.CountRect(region)) / float64(region.Dx()*region.Dy())
		require.InDelta(t, float64(i)/255, share, 0.0005, "tint %d", i)
	}
}
