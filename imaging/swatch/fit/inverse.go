package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// inverted is the inverse of a matrix J^T W J, taken at a unit diagonal, for
// parameters of very different size meet in it.
func inverted(normal *mat.SymDense) (*mat.SymDense, error) {
	n := normal.SymmetricDim()
	unit := unitDiagonal(normal)
	scaled := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			scaled.SetSym(i, j, normal.At(i, j)*unit[i]*unit[j])
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(scaled) {
		return nil, errSingular
	}
	inverse := mat.NewSymDense(n, nil)
	if err := chol.InverseTo(inverse); err != nil && !finite(mat.Sum(inverse)) {
		return nil, errSingular
	}
	for i := range n {
		for j := i; j < n; j++ {
			inverse.SetSym(i, j, inverse.At(i, j)*unit[i]*unit[j])
		}
	}
	return inverse, nil
}

// unitDiagonal is by what each row and column must be multiplied to bring the
// diagonal to 1.
func unitDiagonal(normal *mat.SymDense) []float64 {
	unit := make([]float64, normal.SymmetricDim())
	for i := range unit {
		unit[i] = 1
		if d := normal.At(i, i); d > 0 {
			unit[i] = 1 / math.Sqrt(d)
		}
	}
	return unit
}
