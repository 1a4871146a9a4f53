package compare

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// terms of the field by which the light of a photograph differs from place to place: a
// polynomial of the second degree in x and y, -1..1 over the panel, in the logarithm.
const terms = 6

func fieldAt(x, y float64) [terms]float64 {
	return [terms]float64{1, x, y, x * y, x*x - 1./3, y*y - 1./3}
}

// leastLight keeps the logarithm of black finite, and black noise from counting.
const leastLight = 0.003

// evened is the photograph's light divided by a slow field, so that it is nearest to
// that of the proof: the camera's exposure, its white balance, the lamp's fall-off.
func evened(photo, proof *looks) (*looks, error) {
	out := newLooks(photo.w, photo.h)
	for c := range 3 {
		k, err := slowField(photo, proof, c)
		if err != nil {
			return nil, err
		}
		for i := range photo.pix {
			out.pix[i][c] = photo.pix[i][c] * float32(math.Exp(-dot(k, photo.terms(i))))
		}
	}
	return out, nil
}

// slowField fits ln photo - ln proof of one channel by the terms: least squares, made
// robust by weighting down what is far off, three times over.
func slowField(photo, proof *looks, c int) ([terms]float64, error) {
	var k [terms]float64
	apart, weights := make([]float64, len(photo.pix)), make([]float64, len(photo.pix))
	for i := range photo.pix {
		p, q := float64(photo.pix[i][c]), float64(proof.pix[i][c])
		apart[i] = math.Log(max(p, leastLight) / max(q, leastLight))
		weights[i] = q / (q + 0.02) // more where there is light to compare
	}
	for round := range 3 {
		var a [terms * terms]float64
		var b [terms]float64
		for i, d := range apart {
			f, w := photo.terms(i), weights[i]
			if round > 0 {
				off := (d - dot(k, f)) / 0.2
				w /= 1 + off*off
			}
			for r := range terms {
				wf := w * f[r]
				b[r] += wf * d
				for s := r; s < terms; s++ {
					a[r*terms+s] += wf * f[s]
				}
			}
		}
		for r := range terms {
			for s := range r {
				a[r*terms+s] = a[s*terms+r]
			}
		}
		for r := range terms {
			a[r*terms+r] += 1e-9 * float64(len(photo.pix))
		}
		var x mat.VecDense
		if err := x.SolveVec(mat.NewDense(terms, terms, a[:]), mat.NewVecDense(terms, b[:])); err != nil {
			return k, fmt.Errorf("the light of the photograph cannot be evened out (%w): take it from straight in front, in even light", err)
		}
		for r := range terms {
			k[r] = x.AtVec(r)
		}
	}
	return k, nil
}

func dot(a, b [terms]float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
