package compare

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"undercoat/layout"
)

// reaches of the blur under which photograph and proof are aligned, from coarse to
// fine, with some steps each.
var reaches = []int{6, 3, 1}

const stepsAReach = 3

// aligned moves the corners of the panel in the photograph until it lies on the proof:
// hands and markers miss a corner by some pixels. Each step is the least-squares
// solution for the eight coordinates, with a factor and an offset for the light; it
// is kept only if the two are nearer to each other then, under the same blur.
// Source: B. D. Lucas and T. Kanade, "An iterative image registration technique with
// an application to stereo vision", Proc. IJCAI, 1981, with a homography's corners for
// the parameters.
func (c *comparison) aligned(corners [4]layout.PicturePoint, proof *looks) [4]layout.PicturePoint {
	kept := corners
	for _, reach := range reaches {
		corners = kept
		target := proof.lightness(reach)
		least := math.Inf(1)
		for range stepsAReach + 1 { // the last only to see what came of the one before
			photo, err := c.straightened(corners)
			if err != nil {
				break // it had run away: what was kept stands
			}
			move, off, ok := cornerStep(photo, target, reach)
			if !ok || off >= least {
				break
			}
			kept, least = corners, off
			to, err := layout.FromCorners(corners, float64(photo.w), float64(photo.h))
			if err != nil {
				break
			}
			for i, at := range frameCorners(photo.w, photo.h) {
				corners[i] = to.Apply(layout.PicturePoint{X: at.X + move[2*i], Y: at.Y + move[2*i+1]})
			}
		}
	}
	return kept
}

func frameCorners(w, h int) [4]layout.PicturePoint {
	fw, fh := float64(w), float64(h)
	return [4]layout.PicturePoint{{X: 0, Y: 0}, {X: fw, Y: 0}, {X: fw, Y: fh}, {X: 0, Y: fh}}
}

// cornerStep is by how much the four corners of the view should move, in its pixels,
// and how far the two are apart now: the mean square of what the light's factor and
// offset do not explain, in L*.
func cornerStep(photo *looks, target []float64, reach int) (move [8]float64, off float64, ok bool) {
	const n = 10 // eight coordinates, factor, offset
	light := photo.lightness(reach)
	w, h := photo.w, photo.h
	var a [n * n]float64
	var b [n]float64
	count := 0
	at := func(y, x int) int { return y*w + x }
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			gx := (light[at(y, x+1)] - light[at(y, x-1)]) / 2
			gy := (light[at(y+1, x)] - light[at(y-1, x)]) / 2
			u, v := (float64(x)+0.5)/float64(w), (float64(y)+0.5)/float64(h)
			share := [4]float64{(1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v}
			var row [n]float64
			for i, s := range share {
				row[2*i], row[2*i+1] = s*gx, s*gy
			}
			row[8], row[9] = light[at(y, x)]/50, 1
			d := target[at(y, x)] - light[at(y, x)]
			for r := range n {
				b[r] += row[r] * d
				for s := range n {
					a[r*n+s] += row[r] * row[s]
				}
			}
			count++
		}
	}
	for i := range 8 {
		a[i*n+i] += 1e-3 * float64(count) / 100 // a panel without a feature does not move
	}
	var x mat.VecDense
	if err := x.SolveVec(mat.NewDense(n, n, a[:]), mat.NewVecDense(n, b[:])); err != nil {
		return move, 0, false
	}
	for i := range move {
		move[i] = min(8, max(-8, x.AtVec(i)))
	}
	for y := 1; y < h-1; y++ {
		for i := at(y, 1); i < at(y, w-1); i++ {
			d := target[i] - light[i] - x.AtVec(8)*light[i]/50 - x.AtVec(9)
			off += d * d
		}
	}
	return move, off / float64(count), true
}
