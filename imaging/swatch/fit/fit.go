package fit

import (
	"context"
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/swatch"
)

// Fit finds the curve of a stack on a machine from the readings of one or more
// charts burned into it. stack gives the coats with their thicknesses and what is
// known beforehand: colours near those of the paints, and a first guess of the
// doses, which may be far off.
//
// Fewer than three usable swatches, swatches that are all alike or all of one
// dose, charts of different machines that are not named, words that no layer goes
// by, and readings that no stack of these paints could give are errors. The end of
// ctx stops it within 100 ms.
func Fit(ctx context.Context, readings []swatch.Readings, stack coat.Stack, o Options) (Result, error) {
	o, err := o.validated()
	if err != nil {
		return Result{}, err
	}
	in, err := gather(ctx, readings, stack, o)
	if err != nil {
		return Result{}, err
	}
	f, err := in.fit(ctx, o)
	if err != nil {
		return Result{}, err
	}
	if err := f.plausible(); err != nil {
		return Result{}, err
	}
	u, err := f.uncertainty(ctx, o)
	if err != nil {
		return Result{}, err
	}
	o.Progress(0.9)
	r, err := f.result(ctx, u, o)
	if err != nil {
		return Result{}, err
	}
	r.Stack.Curve.Origin = originOf(readings, r)
	o.Progress(1)
	return r, nil
}

// originOf writes down what the curve was found from; the day is the caller's to add.
func originOf(readings []swatch.Readings, r Result) *coat.Origin {
	o := &coat.Origin{Swatches: len(r.Swatches), Covered: coat.Covered(r.Range)}
	for _, chart := range readings {
		if chart.Machine != nil {
			o.Machine = chart.Machine.Name
		}
		if chart.Photo != nil && chart.Photo.SHA256 != "" {
			o.Photos = append(o.Photos, chart.Photo.SHA256)
		}
	}
	return o
}

// fitted is the model at the bottom.
type fitted struct {
	*problem
	in     *input
	x      []float64
	normal *mat.SymDense // J^T W J with the beliefs, noise divided out
	freely float64       // degrees of freedom of the noise
	// scatter is the standard deviation of ln dose from swatch to swatch.
	scatter float64
}

// fit goes from the coats alone to all that the chart can tell.
func (in *input) fit(ctx context.Context, o Options) (*fitted, error) {
	p := parameters{coats: len(in.stack.Coats), scorch: in.stack.Curve.ScorchDoseJCM2 > 0}
	for _, s := range in.samples {
		p.eye = p.eye || s.eye
		p.scorch = p.scorch || s.eye && s.word.high > float64(p.coats)+0.5
	}
	p.passes = in.varies(func(s burn.Setting) float64 { return float64(s.Passes) }, 1)
	best, x, err := in.lowest(ctx, p)
	if err != nil {
		return nil, err
	}
	o.Progress(0.4)
	if !p.scorch {
		with := p
		with.scorch = true
		if best, x, err = in.ifBetter(ctx, best, x, with); err != nil {
			return nil, err
		}
	}
	if !o.KeepPowerOffset && in.oneOffset() && in.varies(perPower, 1.25) {
		with := best.parameters
		with.offset = true
		if best, x, err = in.ifBetter(ctx, best, x, with); err != nil {
			return nil, err
		}
	}
	o.Progress(0.6)
	return in.settle(ctx, best, x)
}

// perPower is what a setting makes of its power. Only where it differs from swatch
// to swatch can a power scale that starts above zero be told from other doses.
func perPower(s burn.Setting) float64 {
	return 1 / (float64(s.Speed) * float64(s.Pitch))
}

func (in *input) oneOffset() bool {
	for _, s := range in.samples {
		if s.offset != in.offset {
			return false
		}
	}
	return true
}

func (in *input) problem(p parameters) (*problem, []float64, error) {
	x, beliefs, err := expected(in, p)
	if err != nil {
		return nil, nil, err
	}
	return newProblem(model{p, in.stack.Curve.Passes()}, in.samples, beliefs), x, nil
}

// How long a fit goes downhill: a first stretch from each start, then on from the
// best two, then to rest.
const (
	firstStretch = 12
	longStretch  = 60
)

// lowest is the lowest bottom found from all starts.
func (in *input) lowest(ctx context.Context, p parameters) (*problem, []float64, error) {
	problem, beforehand, err := in.problem(p)
	if err != nil {
		return nil, nil, err
	}
	problem.noise = 3 * usualNoise // far out all swatches shall pull
	var found []minimum
	for _, start := range starts(ctx, problem, beforehand) {
		m, err := levenberg(ctx, problem, start, firstStretch, 0.1)
		if err != nil && ctx.Err() != nil {
			return nil, nil, err
		}
		if err == nil {
			found = append(found, m)
		}
	}
	if len(found) == 0 {
		return nil, nil, errSingular
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].value < found[j].value })
	found = found[:min(2, len(found))]
	for i := range found {
		m, err := levenberg(ctx, problem, found[i].x, longStretch, 0.01)
		if err != nil {
			return nil, nil, err
		}
		found[i] = m
	}
	if len(found) == 2 && found[1].value < found[0].value {
		found[0] = found[1]
	}
	problem.noise = problem.middleNoise(found[0].x)
	m, err := levenberg(ctx, problem, found[0].x, longStretch, 0.01)
	return problem, m.x, err
}

// ifBetter fits once more with parameters added, and keeps them if the swatches
// ask for them: if the sum of squares falls by more than chance allows.
func (in *input) ifBetter(ctx context.Context, was *problem, x []float64, with parameters) (*problem, []float64, error) {
	added := float64(with.count() - was.count())
	more, fresh, err := in.problem(with)
	if err != nil {
		return nil, nil, err
	}
	more.noise = was.noise
	start := was.moved(x, with, fresh)
	if with.scorch && !was.scorch {
		more.atHighest(start)
	}
	m, err := levenberg(ctx, more, start, longStretch, 0.1)
	if err != nil {
		return nil, nil, err
	}
	// Source: G. Schwarz, "Estimating the dimension of a model", Ann. Statist. 6,
	// 1978: ln of the number of values for each parameter; twice that, for a model
	// of paint is never quite right.
	enough := 2 * added * math.Log(3*float64(len(in.samples)))
	if was.at(x)-m.value < enough {
		return was, x, nil
	}
	return more, m.x, nil
}

// atHighest starts the scorch where the highest dose looks as it does.
func (p *problem) atHighest(x []float64) {
	last := &p.samples[len(p.samples)-1]
	if last.eye {
		return
	}
	ln, _, _ := p.lnDose(x, last)
	x[p.scorchDose()] = math.Max(ln-2.5*scorchWidth, x[p.breakThrough(p.coats-1)])
	for k, v := range ofLab(last.look) {
		x[p.look(p.coats+1)+k] = v
	}
}

// middleNoise is the noise that the middle swatch, by how far it is off, speaks
// of: swatches that are far off do not move it.
func (p *problem) middleNoise(x []float64) float64 {
	l := p.layers(x)
	var off []float64
	for i := range p.samples {
		if s := &p.samples[i]; !s.eye {
			off = append(off, p.noise*p.apart(s, p.show(x, &l, s, p.shares, nil)).length())
		}
	}
	if len(off) == 0 {
		return usualNoise
	}
	sort.Float64s(off)
	// Of three normal parts together half are shorter than 1.538.
	const middle = 1.538
	return math.Min(math.Max(off[len(off)/2]/middle, usualNoise/2), 6)
}
