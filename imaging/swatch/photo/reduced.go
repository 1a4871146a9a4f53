package photo

import (
	"context"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// reduced is a small copy of the photograph to find marks in. Its planes hold the
// square root of linear light, near enough to what eyes see and cheap.
type reduced struct {
	w, h   int
	factor int // pixels of the photograph to one of the copy
	planes [4][]float32
}

// longSide is the length of the copy's longer side, at most.
const longSide = 1200

func reduce(ctx context.Context, light *plane.RGB16) (*reduced, error) {
	f := max(1, (max(light.W, light.H)+longSide-1)/longSide)
	r := &reduced{w: light.W / f, h: light.H / f, factor: f}
	for i := range r.planes {
		r.planes[i] = make([]float32, r.w*r.h)
	}
	err := plane.SplitRows(ctx, r.h, func(ctx context.Context, y0, y1 int) error {
		sums := make([]uint32, 3*r.w)
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			r.reduceRow(light, y, sums)
		}
		return nil
	})
	return r, err
}

func (r *reduced) reduceRow(light *plane.RGB16, y int, sums []uint32) {
	clear(sums)
	f := r.factor
	for yy := y * f; yy < (y+1)*f; yy++ {
		row := light.Row(yy)
		for x := range r.w {
			s := sums[3*x : 3*x+3 : 3*x+3]
			for v := row[3*x*f : 3*(x+1)*f]; len(v) >= 3; v = v[3:] {
				s[0] += uint32(v[0])
				s[1] += uint32(v[1])
				s[2] += uint32(v[2])
			}
		}
	}
	scale := 1 / (65535 * float64(f*f))
	for x := range r.w {
		red, green, blue := float64(sums[3*x])*scale, float64(sums[3*x+1])*scale, float64(sums[3*x+2])*scale
		at := y*r.w + x
		r.planes[0][at] = float32(math.Sqrt(0.2126*red + 0.7152*green + 0.0722*blue))
		r.planes[1][at] = float32(math.Sqrt(red))
		r.planes[2][at] = float32(math.Sqrt(green))
		r.planes[3][at] = float32(math.Sqrt(blue))
	}
}

// at is a plane's value at a place of the photograph.
func (r *reduced) at(plane []float32, p layout.PicturePoint) (float64, bool) {
	x, y := int(p.X)/r.factor, int(p.Y)/r.factor
	if p.X < 0 || p.Y < 0 || x >= r.w || y >= r.h {
		return 0, false
	}
	return float64(plane[y*r.w+x]), true
}

// localMeans is the mean of a plane over a square about each pixel, cut to the
// plane, reaching so many pixels each way.
func (r *reduced) localMeans(p []float32, reach int) []float32 {
	rows := make([]float32, len(p))
	window := make([]float64, max(r.w, r.h)+1)
	for y := range r.h {
		running(p[y*r.w:], 1, r.w, reach, window, rows[y*r.w:])
	}
	means := make([]float32, len(p))
	for x := range r.w {
		running(rows[x:], r.w, r.h, reach, window, means[x:])
	}
	return means
}

// running is the mean over 2*reach+1 of n values that lie a step apart.
func running(in []float32, step, n, reach int, sums []float64, out []float32) {
	for i := range n {
		sums[i+1] = sums[i] + float64(in[i*step])
	}
	for i := range n {
		from, to := max(0, i-reach), min(n, i+reach+1)
		out[i*step] = float32((sums[to] - sums[from]) / float64(to-from))
	}
}
