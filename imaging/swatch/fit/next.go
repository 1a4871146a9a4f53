package fit

import (
	"context"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"

	"undercoat/imaging/burn"
)

// next chooses the powers at which a swatch would tell most of the break-throughs,
// one after the other, at the chart's usual speed, pitch and passes. Each is the one
// that shrinks the volume of what is left open of them most (D-optimal for a part
// of the parameters): a swatch that could as well be explained by a paint a little
// brighter tells less. As the break-throughs are not known yet, what a swatch tells
// is averaged over where they may lie.
//
// Sources: J. Kiefer and J. Wolfowitz, "Optimum designs in regression problems",
// Ann. Math. Statist. 30, 1959; averaged over the unknown as in K. Chaloner and K.
// Larntz, "Optimal Bayesian design applied to logistic regression experiments",
// J. Statist. Plan. Infer. 21, 1989 (both from memory).
func (f *fitted) next(ctx context.Context, u uncertainty, count int) ([]burn.Setting, error) {
	n := f.count()
	known, with := mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
	known.CopySym(f.normal)
	candidates := f.candidates()
	told, err := f.tells(ctx, candidates, u)
	if err != nil {
		return nil, err
	}
	var chosen []burn.Setting
	for len(chosen) < count && len(candidates) > 0 {
		before := f.knownOfBreaks(known)
		best, most := -1, 1e-3 // less is not worth a swatch
		for i := range candidates {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			with.AddSym(known, told[i])
			if gain := f.knownOfBreaks(with) - before; gain > most {
				best, most = i, gain
			}
		}
		if best < 0 {
			break
		}
		known.AddSym(known, told[best])
		chosen = append(chosen, candidates[best].setting)
		candidates = append(candidates[:best:best], candidates[best+1:]...)
		told = append(told[:best:best], told[best+1:]...)
	}
	return chosen, nil
}

// knownOfBreaks is the logarithm of how tightly the break-throughs are known, all
// else left open: that of the whole matrix less that of all else.
func (f *fitted) knownOfBreaks(normal *mat.SymDense) float64 {
	return lnDet(normal) - lnDet(normal.SliceSym(f.coats, f.count()))
}

// usual is the swatch whose speed, pitch and passes most of the chart has, at the
// highest power.
func (f *fitted) usual() *sample {
	count := map[burn.Setting]int{}
	var best *sample
	for i := range f.samples {
		s := &f.samples[i]
		key := s.setting
		key.PowerPercent = 0
		count[key]++
		if best == nil {
			best = s
			continue
		}
		its := best.setting
		its.PowerPercent = 0
		if n := count[key]; n > count[its] || n == count[its] && key == its {
			best = s
		}
	}
	return best
}

// candidates are swatches at the powers a machine is set to: whole percents, half
// ones up to 20 %. They stay below what is well past chart and last break-through:
// a ground that chars tells nothing.
func (f *fitted) candidates() []sample {
	usual := *f.usual()
	usual.eye = false
	burned := map[burn.Setting]bool{}
	for i := range f.samples {
		burned[f.samples[i].setting] = true
	}
	offset := usual.offset
	if f.offset {
		offset = f.x[f.offsetAt()]
	}
	last := math.Max(f.x[f.breakThrough(f.coats-1)]+0.3, f.lastLnDose())
	var all []sample
	for half := 1; half <= 200; half++ {
		if half > 40 && half%2 == 1 {
			continue
		}
		s := usual
		s.setting.PowerPercent = float64(half) / 2
		if s.setting.PowerPercent <= offset || burned[s.setting] {
			continue
		}
		if ln, _, _ := f.lnDose(f.x, &s); ln <= last {
			all = append(all, s)
		}
	}
	return all
}

// lastLnDose is the highest dose of the chart.
func (f *fitted) lastLnDose() float64 {
	most := math.Inf(-1)
	for i := range f.samples {
		ln, _, _ := f.lnDose(f.x, &f.samples[i])
		most = math.Max(most, ln)
	}
	return most
}

// tells is what each candidate would tell: J^T J of its look, averaged over where
// break-throughs and spreads may lie.
func (f *fitted) tells(ctx context.Context, candidates []sample, u uncertainty) ([]*mat.SymDense, error) {
	const draws = 12
	random := rand.New(rand.NewPCG(7, 11))
	told := make([]*mat.SymDense, len(candidates))
	for i := range told {
		told[i] = mat.NewSymDense(f.count(), nil)
	}
	x := make([]float64, len(f.x))
	for range draws {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		copy(x, f.x)
		for k := range 2 * f.coats { // they stand first
			// Beyond half an e-fold a draw says more of the belief than of the chart.
			x[k] += math.Min(u.sd[k], 0.5) * random.NormFloat64()
		}
		f.hold(x)
		l := f.layers(x)
		for i := range candidates {
			s := &candidates[i]
			light := f.show(x, &l, s, f.shares, &f.rows)
			s.steps = evenSteps(light.linear().Lab())
			f.toSteps(s)
			for part := range f.rows {
				addOuter(told[i], f.rows[part], 1.0/draws)
			}
		}
	}
	return told, nil
}

func lnDet(m mat.Symmetric) float64 {
	var chol mat.Cholesky
	if !chol.Factorize(m) {
		return math.Inf(-1)
	}
	return chol.LogDet()
}
