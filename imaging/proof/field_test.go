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
	t.Helper()
	return model(r).Table()
}

// meansOfDots goes through the points of every dot of region and averages.
func meansOfDots(t testing.TB, r Recipe, bits *plane.Bits, region image.Rectangle) []coat.Light {
	k := r.grid()
	sampled, err := newSampled(r, burn.OneBit(bits), lookTable(t, r), k)
	require.NoError(t, err)
	means := make([]coat.Light, region.Dx()*region.Dy())
	err = sampled.rows(context.Background(), region, func(row int, looks []coat.Light) error {
		for x, l := range looks {
			m := &means[row/k*region.Dx()+x/k]
			*m = plus(*m, times(l, 1/float32(k*k)))
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
					row := 0
					err := c.pixels(context.Background(), region, edges(region.Dx(), region.Dx()), edges(region.Dy(), region.Dy()), func(sums []sum) {
						for x, l := range sums {
							w := want[row*region.Dx()+x]
							require.InDelta(t, w.R, l.r, 0.0025, "dot %d, %d", x, row)
							require.InDelta(t, w.G, l.g, 0.0025, "dot %d, %d", x, row)
							require.InDelta(t, w.B, l.b, 0.0025, "dot %d, %d", x, row)
						}
						row++
					})
					require.NoError(t, err)
					require.Equal(t, region.Dy(), row)
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

// Cells that are cut by the edges of pixels, against the samples themselves.
func TestCutCellsAgainstSampleBySample(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := sample(layout.MM(rapid.SampledFrom([]float64{0.05, 0.08, 0.1}).Draw(t, "beam")), 0.08)
		r.Grid = rapid.IntRange(1, 5).Draw(t, "grid")
		bits := randomDots(20, 15, 0.5, rapid.Uint64().Draw(t, "seed"))
		region := image.Rect(2, 1, 19, 14)
		k := r.Grid
		wide, tall := rapid.IntRange(1, region.Dx()).Draw(t, "w"), rapid.IntRange(1, region.Dy()).Draw(t, "h")
		x0 := rapid.Float64Range(0, 1).Draw(t, "x0")
		width := float64(region.Dx()) - 1 - x0
		wide = min(wide, int(width))
		near, err := newNeighbours(context.Background(), r)
		require.NoError(t, err)
		require.NotNil(t, near)
		table := model(r).Table()
		c, err := newCells(context.Background(), near, bits, table, float32(r.FullDose()))
		require.NoError(t, err)
		s, err := newSampled(r, burn.OneBit(bits), table, k)
		require.NoError(t, err)
		var want, got []sum
		keep := func(all *[]sum) func([]sum) {
			return func(sums []sum) { *all = append(*all, sums...) }
		}
		require.NoError(t, c.pixels(context.Background(), region,
			edgesWithin(x0, width, region.Dx(), wide), edges(region.Dy(), tall), keep(&got)))
		require.NoError(t, bySample{s}.pixels(context.Background(), region,
			edgesWithin(x0*float64(k), width*float64(k), k*region.Dx(), wide), edges(k*region.Dy(), tall), keep(&want)))
		require.Len(t, got, wide*tall)
		require.Len(t, want, wide*tall)
		area := width / float64(wide) * float64(region.Dy()) / float64(tall) // of a pixel, in dots
		for p := range want {
			require.InDelta(t, want[p].r/float64(k*k)/area, got[p].r/area, 0.0025)
			require.InDelta(t, want[p].g/float64(k*k)/area, got[p].g/area, 0.0025)
			require.InDelta(t, want[p].b/float64(k*k)/area, got[p].b/area, 0.0025)
		}
	})
}

func model(r Recipe) *coat.Model {
	m, err := r.Stack.Compile(r.Options)
	if err != nil {
		panic(err)
	}
	return m
}

func TestEdgesShareTheRowOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 300).Draw(t, "samples"), rapid.IntRange(1, 300).Draw(t, "pixels")
		all := edges(n, m)
		require.Equal(t, edge{0, 0}, all[0])
		require.Equal(t, edge{n, 0}, all[m])
		for i, l := range lengths(all) {
			require.InDelta(t, float64(n)/float64(m), l, 1e-5, "pixel %d", i)
		}
		samples, sums := make([]coat.Light, n), make([]coat.Light, m)
		total := float32(0)
		for i := range samples {
			samples[i] = coat.Light{R: float32(i % 7), G: 1}
			total += float32(i % 7)
		}
		sumRow(all, samples, sums)
		var all7 coat.Light
		for p, s := range sums {
			all7 = plus(all7, s)
			require.InDelta(t, lengths(all)[p], s.G, 1e-3)
		}
		require.InDelta(t, total, all7.R, 0.01)
		for i, e := range edgesWithin(0, float64(n), n, m) {
			require.InDelta(t, float64(all[i].at)+float64(all[i].way), float64(e.at)+float64(e.way), 1e-4)
			require.Less(t, e.way, float32(1))
		}
	})
}

func TestEdgesWithinAStretch(t *testing.T) {
	require.Equal(t, []edge{{0, 0.25}, {1, 0.75}, {3, 0.25}}, edgesWithin(0.25, 3, 5, 2))
	require.Equal(t, []edge{{4, 0.5}, {5, 0}}, edgesWithin(4.5, 3, 5, 1), "nothing lies past the last sample")
}

// Every row of samples lies, in order, on the rows of pixels by just its height.
func TestDescent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 60).Draw(t, "samples"), rapid.IntRange(1, 60).Draw(t, "pixels")
		from := rapid.IntRange(0, m-1).Draw(t, "first pixel")
		to := rapid.IntRange(from+1, m).Draw(t, "past the last pixel")
		down := edges(n, m)[from : to+1]
		var heights []float64
		d := descent{down: down, sums: make([]sum, 1), emit: func(sums []sum) { heights = append(heights, sums[0].r) }}
		first, end := d.rows()
		for at := first; at < end; at++ {
			d.row(at, func(a, b float32) {
				require.Less(t, a, b)
				d.sums[0].r += float64(b - a)
			})
		}
		require.Len(t, heights, to-from)
		for i, want := range lengths(down) {
			require.InDelta(t, want, heights[i], 1e-4)
		}
	})
}

func TestTurningPoints(t *testing.T) {
	for name, c := range map[string]struct {
		lstar    []float64
		from, to int
	}{
		"rising":                    {[]float64{10, 20, 30, 40}, 0, 3},
		"falling":                   {[]float64{40, 30, 20}, 0, 2},
		"level":                     {[]float64{40, 40, 40}, 0, 2},
		"scatter is no turn":        {[]float64{10, 9.8, 20, 19.7, 30, 29.9}, 0, 5},
		"up, then down":             {[]float64{10, 50, 80, 60, 40}, 0, 2},
		"down, then further up":     {[]float64{50, 30, 20, 60, 90}, 2, 4},
		"the longest of three":      {[]float64{20, 30, 10, 90, 95, 40}, 2, 4},
		"back past the beginning":   {[]float64{50, 60, 10}, 1, 2},
		"turns below the beginning": {[]float64{50, 60, 30, 48, 1}, 3, 4},
		"one tint":                  {[]float64{50}, 0, 0},
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
		// A screen begins amid the grain of its tint, so that a tile is a few dots off.
		require.InDelta(t, float64(i)/255, share, 0.001, "tint %d", i)
	}
}
