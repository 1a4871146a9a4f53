package screen

import (
	"context"
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// proofing is one machine, setting and stack under which screens are compared.
type proofing struct {
	machine burn.Machine
	setting burn.Setting
	table   *coat.LookTable
	k       int
}

// newProofing has a beam some pitches wide, and a coat that gives way at a share of
// the full dose.
func newProofing(t testing.TB, beamPitches, breakShare, spread float64) *proofing {
	const pitch = 0.1
	p := &proofing{
		machine: burn.Machine{
			Name: "example", OpticalPowerW: 5, BeamAlong: layout.MM(beamPitches * pitch), BeamAcross: layout.MM(beamPitches * pitch),
			Bed: layout.Size{W: 400, H: 400}, RunUp: 5, AccelerationMMPerS2: 2000, TopSpeed: 100,
		},
		setting: burn.Setting{PowerPercent: 30, Speed: 25, Pitch: pitch, Passes: 1},
	}
	p.k = max(4, burn.ChooseGrid(p.machine, pitch))
	full := burn.Dose(p.machine, p.setting, 1)
	at := full * breakShare
	stack := coat.Stack{
		Coats: []coat.Coat{{Name: "top", ThicknessUM: 20}},
		Curve: coat.Curve{
			Points: []coat.Point{{DoseJCM2: at / 4}, {DoseJCM2: at, DepthUM: 20}, {DoseJCM2: at * 4, DepthUM: 40}},
			Spread: []float64{spread},
		},
	}
	model, err := stack.Compile(coat.Options{})
	require.NoError(t, err)
	p.table = model.Table()
	return p
}

// bare is the mean share of the region that has lost the coat.
func (p *proofing) bare(t testing.TB, dots *plane.Bits, region image.Rectangle) float64 {
	sum, n := 0.0, 0
	err := burn.Expose(context.Background(), p.machine, p.setting, 1, burn.OneBit(dots), region, p.k, func(_ int, doses []float32) error {
		for _, d := range doses {
			sum += p.lost(d)
			n++
		}
		return nil
	})
	require.NoError(t, err)
	return sum / float64(n)
}

// lost is the share of area that has lost the coat at a dose.
func (p *proofing) lost(doseJCM2 float32) float64 {
	var shares [2]float32 // of the coat and the ground
	p.table.CoverageAt(doseJCM2, shares[:])
	return float64(shares[1])
}

// burned is the same at a share of the full dose.
func (p *proofing) burned(dose float64) float64 {
	return p.lost(float32(dose * burn.Dose(p.machine, p.setting, 1)))
}

func (p *proofing) cells(t testing.TB) *CellTable {
	c, err := BeamCells(context.Background(), p.machine, p.setting.Pitch, p.burned)
	require.NoError(t, err)
	return c
}

// wedge is how far the burned share is from the tint in steps of an even wedge, as a
// share of what burns where every dot does: at worst and in the mean.
func (p *proofing) wedge(t testing.TB, o Options, rim int) (worst, mean float64) {
	const size, steps = 64, 20
	region := image.Rect(rim, rim, rim+size, rim+size)
	all := p.bare(t, mustScreen(t, even16(size+2*rim, size+2*rim, 1), o), region)
	for i := 1; i < steps; i++ {
		tint := float64(i) / steps
		off := math.Abs(p.bare(t, mustScreen(t, even16(size+2*rim, size+2*rim, tint), o), region)/all - tint)
		worst, mean = max(worst, off), mean+off/(steps-1)
	}
	return worst, mean
}

// The dose map of each screen's dots, shown through a coat that gives way at a
// quarter, half and seven tenths of the full dose: overlapping dots burn too much of
// a coat that gives way early, and too little of one that gives way late.
func TestBeamAwareKeepsTheToneOfAWedge(t *testing.T) {
	for _, c := range []struct {
		beamPitches, breakShare float64
		worst                   float64 // what beam-aware may be off by
	}{{1.5, 0.5, 0.01}, {2, 0.25, 0.01}, {2, 0.5, 0.01}, {2, 0.7, 0.01}, {2.5, 0.5, 0.015}, {3, 0.5, 0.02}} {
		t.Run(fmt.Sprintf("beam of %g pitches, coat gives way at %g", c.beamPitches, c.breakShare), func(t *testing.T) {
			p := newProofing(t, c.beamPitches, c.breakShare, 0.2)
			plainWorst, plainMean := p.wedge(t, Options{}, 16)
			worst, mean := p.wedge(t, Options{Kind: BeamAware, Cells: p.cells(t)}, 16)
			t.Logf("off by %.2f %% at worst and %.2f %% in the mean; the usual screen by %.1f %% and %.1f %%", 100*worst, 100*mean, 100*plainWorst, 100*plainMean)
			require.Less(t, worst, c.worst)
			require.Less(t, worst, plainWorst/2)
			require.Less(t, mean, plainMean/2)
		})
	}
}

func TestBeamAwareWithRunsKeepsTone(t *testing.T) {
	p := newProofing(t, 2, 0.5, 0.2)
	worst, _ := p.wedge(t, Options{Kind: BeamAware, Cells: p.cells(t), MinDot: 2, MinGap: 2}, 16)
	require.Less(t, worst, 0.015)
}

// tables are those that beam-aware is tried with.
func tables(t testing.TB) map[string]*CellTable {
	all := map[string]*CellTable{"half dose": nil}
	for _, radius := range []float64{1, DefaultRadius, math.Sqrt2} {
		c, err := GeometricCells(radius)
		require.NoError(t, err)
		all[fmt.Sprintf("discs of %.2f", radius)] = c
	}
	for _, breakShare := range []float64{0.25, 0.5, 0.7} {
		all[fmt.Sprintf("coat gives way at %g", breakShare)] = newProofing(t, 2, breakShare, 0.2).cells(t)
	}
	p := newProofing(t, 2, 0.5, 0.2)
	hard, err := BeamCells(context.Background(), p.machine, p.setting.Pitch, nil)
	require.NoError(t, err)
	all["half dose"] = hard
	return all
}

// What the table says burns is what was asked for.
func TestBeamAwareKeepsModelledCoverage(t *testing.T) {
	const size, rim = 256, 16
	region := image.Rect(rim, rim, rim+size, rim+size)
	for name, cells := range tables(t) {
		t.Run(name, func(t *testing.T) {
			for _, o := range []Options{{}, {OneWay: true}, {MinDot: 2, MinGap: 2}} {
				o.Kind, o.Cells = BeamAware, cells
				worst := 0.0
				for percent := 2; percent <= 98; percent += 3 {
					tint := float64(percent) / 100
					dots := mustScreen(t, even16(size+2*rim, size+2*rim, tint), o)
					got := cells.Burned(dots, region) / (size * size) / cells.Share(Patterns-1)
					worst = max(worst, math.Abs(got-tint))
					require.InDelta(t, tint, got, 0.002, "one way %t, runs of %d", o.OneWay, o.MinDot)
				}
				t.Logf("one way %t, runs of %d: off by %.3f %% at worst", o.OneWay, o.MinDot, 100*worst)
			}
		})
	}
}

// The books of a raster left plain: all that burns, the ring of cells about it too,
// is all the tints less what is carried past the edges, which is less than two dots
// a place.
func TestBeamAwareCountsEveryCell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 30).Draw(t, "w"), rapid.IntRange(1, 30).Draw(t, "h")
		tints := plane.NewGrey16(w, h)
		gains, cells := int64(0), defaultCells()
		for i := range tints.Pix {
			tints.Pix[i] = rapid.Uint16().Draw(t, "tint")
		}
		o := Options{Kind: BeamAware, Plain: true, OneWay: rapid.Bool().Draw(t, "one way")}
		dots := mustScreen(t, tints, o)
		for y := range h {
			for i := range w {
				x, step, side := i, 1, 0
				if !o.OneWay && y%2 == 1 {
					x, step, side = w-1-i, -1, 1
				}
				if !dots.At(x, y) {
					continue
				}
				gains += int64(cells.gains[side][decidedAt(dots, x, y, step)])
			}
		}
		burned := cells.Burned(dots, image.Rect(-1, -1, w+1, h+1))
		require.InDelta(t, burned, float64(gains)/full, 1e-4*float64(w*h))
	})
}

// decidedAt reads the pattern of the dots decided before (x, y) out of a raster.
func decidedAt(dots *plane.Bits, x, y, step int) int {
	pattern := 0
	for at := range decidedPatterns {
		same := true
		for dy := -2; dy <= 0 && same; dy++ {
			for dx := -2; dx <= 2; dx++ {
				if dy == 0 && dx >= 0 {
					break
				}
				px, py := x+dx*step, y+dy
				burns := px >= 0 && px < dots.W && py >= 0 && dots.At(px, py)
				if decided(at, dx, dy) != burns {
					same = false
					break
				}
			}
		}
		if same {
			pattern = at
			break
		}
	}
	return pattern
}

// A burned block takes some of the white about it with it. That must not come out
// as a lighter tint further down.
func TestBeamAwareLeavesNoSeam(t *testing.T) {
	const w, block, white, tint = 128, 40, 6, 0.3
	cells := defaultCells()
	tints := even16(w, block+white+96, tint)
	for y := range block + white {
		v := uint16(65535)
		if y >= block {
			v = 0
		}
		for x := range w {
			tints.Row(y)[x] = v
		}
	}
	dots := mustScreen(t, tints, Options{Kind: BeamAware})
	below := image.Rect(16, block+white, w-16, block+white+8)
	got := cells.Burned(dots, below) / float64(below.Dx()*below.Dy())
	require.InDelta(t, tint, got, 0.06, "the first eight rows under it")
}

func BenchmarkCellTables(b *testing.B) {
	p := newProofing(b, 2, 0.5, 0.2)
	b.ReportAllocs()
	for b.Loop() {
		p.cells(b)
	}
}
