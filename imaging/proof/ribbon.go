package proof

import (
	"encoding/binary"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// Ribbon is what comes out at every dose from none to FullJCM2, where an even,
// fully burned field is looked at: the power may change, the rest of the recipe
// stays. It never changes and may be used by any number of goroutines at once.
type Ribbon struct {
	FullJCM2 float64
	Looks    *image.RGBA // one row, from no dose at its left
	Breaks   []Break     // one a coat, from the top down
	// ScorchJCM2 is the dose from which the ground darkens; +Inf where it does not.
	ScorchJCM2 float64
	Calibrated bool

	table *TintTable
}

// Break says where a coat gives way.
type Break struct {
	Coat     string
	DoseJCM2 float64 // half the area has lost it; +Inf where the curve does not reach
	// LowJCM2 and HighJCM2 hold the dose with 95 %; both 0 where that is not known.
	LowJCM2, HighJCM2 float64
}

// maxRibbon bounds the width of a ribbon in steps.
const maxRibbon = 1 << 14

// Ribbon works out the looks at wide doses that lie evenly from none to fullJCM2.
func (t *TintTable) Ribbon(fullJCM2 float64, wide int) (*Ribbon, error) {
	if !(fullJCM2 > 0) || math.IsInf(fullJCM2, 1) {
		return nil, fmt.Errorf("end of the ribbon is %g J/cm2: give a dose above 0", fullJCM2)
	}
	if wide < 2 || wide > maxRibbon {
		return nil, fmt.Errorf("ribbon is %d steps wide: choose 2 to %d", wide, maxRibbon)
	}
	stack := t.model.Stack()
	r := &Ribbon{FullJCM2: fullJCM2, Looks: image.NewRGBA(image.Rect(0, 0, wide, 1)), Calibrated: t.model.Calibrated(), table: t}
	if r.ScorchJCM2 = stack.Curve.ScorchDoseJCM2; r.ScorchJCM2 == 0 {
		r.ScorchJCM2 = math.Inf(1)
	}
	for i, c := range stack.Coats {
		b := Break{Coat: c.Name, DoseJCM2: t.model.BreakThrough(i)}
		if low, high, ok := t.model.BreakThroughRange(i); ok {
			b.LowJCM2, b.HighJCM2 = low, high
		}
		r.Breaks = append(r.Breaks, b)
	}
	for x := range wide {
		dose := fullJCM2 * float64(x) / float64(wide-1)
		binary.LittleEndian.PutUint32(r.Looks.Pix[4*x:], rgba(t.solidLook(dose)))
	}
	return r, nil
}

// At cuts the panel where a fully burned field gets a mean dose: all values are
// means over the ripple that the beam leaves between the dots.
func (r *Ribbon) At(doseJCM2 float64) Cut {
	t := r.table
	coverage := make([]float64, t.fast.Layers())
	depth, scorched := 0.0, 0.0
	t.eachSolid(doseJCM2, func(dose, share float64) {
		shown := t.model.ShowThrough(dose)
		for l, v := range shown.Coverage {
			coverage[l] += share * v
		}
		depth += share * shown.DepthUM
		scorched += share * shown.Coverage[t.model.Coats()] * shown.Scorched
	})
	if ground := coverage[t.model.Coats()]; ground > 0 {
		scorched /= ground
	}
	return cut(t.model, doseJCM2, depth, coverage, scorched, t.solidLook(doseJCM2))
}

func (t *TintTable) solidLook(doseJCM2 float64) colour.Linear {
	var look colour.Linear
	t.eachSolid(doseJCM2, func(dose, share float64) {
		r, g, b := t.fast.At(float32(dose))
		look = look.Add(colour.Linear{R: float64(r), G: float64(g), B: float64(b)}.Scale(share))
	})
	return look
}

// eachSolid calls visit with the doses found in a fully burned field of a mean dose,
// and the share of the area that gets each.
func (t *TintTable) eachSolid(meanJCM2 float64, visit func(doseJCM2, share float64)) {
	if !(meanJCM2 > 0) {
		visit(0, 1)
		return
	}
	const solid = tints - 1
	for j, w := range t.tiles.share[solid] {
		if w > 0 {
			visit(meanJCM2*float64(nodeDose(t.tiles.first[solid]+j)), float64(w))
		}
	}
}

// RibbonEnd is a dose to end a ribbon at: past the last coat that gives way, and
// past the scorching of the ground if that is not far, but no more than the machine
// gives at full power at the recipe's speed, pitch and passes.
func (t *TintTable) RibbonEnd() float64 {
	const past, far, pastScorch = 1.5, 2.5, 1.15 // plain choices
	most := t.recipe.withPower(100).FullDose()
	last := 0.0
	for i := range t.model.Coats() {
		if e := t.model.BreakThrough(i); !math.IsInf(e, 1) {
			last = max(last, e)
		}
	}
	if last == 0 {
		return most
	}
	end := past * last
	if scorch := t.model.Stack().Curve.ScorchDoseJCM2; scorch <= far*last {
		end = max(end, pastScorch*scorch)
	}
	return min(end, most)
}

// DoseShares is the share of a picture of tints, 0..65535, that gets each dose, in
// equal bins from none to fullJCM2: of its area, dot by dot, not of its pixels'
// means. What gets more counts in the last bin, what gets none in the first.
func (t *TintTable) DoseShares(picture *plane.Grey16, fullJCM2 float64, bins int) []float64 {
	out := make([]float64, max(1, bins))
	if !(fullJCM2 > 0) || len(picture.Pix) == 0 {
		return out
	}
	var at [nodes]float64 // the share of the picture at each node
	for i, w := range tallyOf(picture) {
		if w == 0 {
			continue
		}
		for j, s := range t.tiles.share[i] {
			at[t.tiles.first[i]+j] += w * float64(s)
		}
	}
	perBin := float64(len(out)) / fullJCM2 * t.recipe.FullDose()
	for i, w := range at {
		if w > 0 {
			spread(out, w, perBin*nodeStart(i), perBin*nodeStart(i+1))
		}
	}
	return out
}

// nodeStart is half way from the node before to a node: what is counted at it lies
// from there to the start of the next.
func nodeStart(i int) float64 {
	if i == 0 {
		return 0
	}
	if i >= nodes {
		return float64(nodeDose(nodes - 1))
	}
	return float64(nodeDose(i-1)+nodeDose(i)) / 2
}

// spread shares w out evenly between two places, in bins.
func spread(bins []float64, w, from, to float64) {
	last := len(bins) - 1
	first, end := min(int(from), last), min(int(to), last)
	if first == end || to <= from {
		bins[first] += w
		return
	}
	density := w / (to - from)
	for i := first; i <= end; i++ {
		stop := min(float64(i+1), to)
		if i == last {
			stop = to
		}
		bins[i] += density * (stop - max(float64(i), from))
	}
}

// PowerFor is the power, in percent, at which a fully burned area gets a mean dose in
// J/cm2, all else staying. It may lie outside of what can be set.
func (r Recipe) PowerFor(doseJCM2 float64) float64 {
	offset := r.Machine.PowerOffsetPercent
	return offset + (100-offset)*doseJCM2/r.withPower(100).FullDose()
}
