package fit

import (
	"context"
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// objective is a sum of squares, robust or plain, that levenberg makes small.
type objective interface {
	// at is the value at x. Not a number and +Inf both say: do not go there.
	at(x []float64) float64
	// slope puts half of the value's matrix of second derivatives, as Gauss
	// and Newton take it (J^T W J), into normal, half of its gradient
	// (J^T W r) into half, and returns the value.
	slope(x []float64, normal *mat.SymDense, half []float64) float64
	// hold moves x back to where the model has a meaning.
	hold(x []float64)
}

// minimum is where levenberg came to rest.
type minimum struct {
	x     []float64
	value float64
	steps int
	// settled is false when the steps ran out first.
	settled bool
}

// errSingular says that the readings leave a parameter without any hold.
var errSingular = errors.New("the readings do not determine the model")

// levenberg goes downhill from start, in at most maxSteps steps. damping is how
// shy the first steps are: near 0 from a good start, 100 from one that knows
// nothing.
//
// Sources: K. Levenberg, "A method for the solution of certain non-linear
// problems in least squares", Quart. Appl. Math. 2, 1944; D. W. Marquardt, "An
// algorithm for least-squares estimation of nonlinear parameters", J. SIAM 11,
// 1963; the damping follows H. B. Nielsen, "Damping parameter in Marquardt's
// method", report IMM-REP-1999-05, 1999, and the scale of each parameter is the
// largest met so far, as in J. J. Moré, "The Levenberg-Marquardt algorithm", 1978
// (all from memory).
func levenberg(ctx context.Context, o objective, start []float64, maxSteps int, damping float64) (minimum, error) {
	n := len(start)
	m := minimum{x: append([]float64(nil), start...)}
	o.hold(m.x)
	var (
		normal, trial = mat.NewSymDense(n, nil), make([]float64, n)
		half, scale   = make([]float64, n), make([]float64, n)
		growth        = 2.0
	)
	m.value = o.slope(m.x, normal, half)
	if !finite(m.value) {
		return m, errSingular
	}
	for m.steps = 1; m.steps <= maxSteps; m.steps++ {
		if err := ctx.Err(); err != nil {
			return m, err
		}
		for i := range scale {
			scale[i] = math.Max(scale[i], normal.At(i, i))
		}
		step, promised, ok := dampedStep(normal, half, scale, damping)
		if !ok {
			damping, growth = damping*growth, growth*2
			if damping > 1e30 {
				return m, errSingular
			}
			continue
		}
		for i := range trial {
			trial[i] = m.x[i] + step[i]
		}
		o.hold(trial)
		value := o.at(trial)
		gain := (m.value - value) / promised
		if !(gain > 0) || !finite(value) {
			if promised <= 1e-14*math.Abs(m.value) || damping > 1e30 {
				m.settled = true
				return m, nil
			}
			damping, growth = damping*growth, growth*2
			continue
		}
		small := still(m.x, trial) || m.value-value <= 1e-15*math.Abs(m.value) && promised <= 1e-15*math.Abs(m.value)
		copy(m.x, trial)
		m.value = o.slope(m.x, normal, half)
		damping *= math.Max(1.0/3, 1-math.Pow(2*math.Min(gain, 2)-1, 3))
		damping, growth = math.Max(damping, 1e-16), 2
		if small {
			m.settled = true
			return m, nil
		}
	}
	return m, nil
}

// still tells whether a step moved nothing that counts.
func still(x, y []float64) bool {
	for i := range x {
		if math.Abs(x[i]-y[i]) > 1e-11*(math.Abs(x[i])+1e-11) {
			return false
		}
	}
	return true
}

// dampedStep solves (normal + damping*scale) step = -half. promised is by how
// much the value would fall if it were a parabola. The system is brought to a
// unit diagonal first: parameters of very different size meet in it.
func dampedStep(normal *mat.SymDense, half, scale []float64, damping float64) (step []float64, promised float64, ok bool) {
	n := len(half)
	unit := make([]float64, n)
	for i := range unit {
		unit[i] = 1
		if scale[i] > 0 {
			unit[i] = 1 / math.Sqrt(scale[i])
		}
	}
	system := mat.NewSymDense(n, nil)
	right := mat.NewVecDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			system.SetSym(i, j, normal.At(i, j)*unit[i]*unit[j])
		}
		system.SetSym(i, i, system.At(i, i)+damping)
		right.SetVec(i, -half[i]*unit[i])
	}
	var chol mat.Cholesky
	if !chol.Factorize(system) {
		return nil, 0, false
	}
	var solved mat.VecDense
	if err := chol.SolveVecTo(&solved, right); err != nil && !finite(mat.Sum(&solved)) {
		return nil, 0, false
	}
	step = make([]float64, n)
	for i := range step {
		s := solved.AtVec(i)
		promised += s * (damping*s + right.AtVec(i))
		step[i] = s * unit[i]
	}
	return step, promised, promised > 0
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
