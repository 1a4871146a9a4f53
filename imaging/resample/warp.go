package resample

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// maxShrink is how many source pixels one pixel of a warped picture may span
// along an axis.
const maxShrink = 64

// Warp is src, in linear light, seen through a homography: the pixel at x,y of
// the result, w x h of them, shows the place h takes it to. So h goes from the
// result to the source; both count pixels from the upper left corner, pixel i
// covering i..i+1. Past the edge of the picture its edge pixels go on.
//
// Values are interpolated by a cubic. Where the picture shrinks, at that place
// and along that axis, the cubic widens with it, so that every source pixel
// counts and fine patterns turn to the grey they have. An even area keeps its
// value to the last bit, and so does every pixel under layout.Unmoved.
//
// It refuses an h that puts part of the result beyond the horizon, and one that
// shrinks the picture more than 64-fold. It stops within some hundredths of a
// second of the end of ctx.
func Warp(ctx context.Context, src *plane.Grey16, h layout.Homography, w, ht int) (*plane.Grey16, error) {
	out := plane.NewGrey16(0, 0)
	err := warp(ctx, warpSource{src.W, src.H, 1, src.Pix}, h, w, ht, func() []uint16 {
		out = plane.NewGrey16(w, ht)
		return out.Pix
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// WarpRGB is Warp for a picture in colour.
func WarpRGB(ctx context.Context, src *plane.RGB16, h layout.Homography, w, ht int) (*plane.RGB16, error) {
	out := plane.NewRGB16(0, 0)
	err := warp(ctx, warpSource{src.W, src.H, 3, src.Pix}, h, w, ht, func() []uint16 {
		out = plane.NewRGB16(w, ht)
		return out.Pix
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// warpSource is a plane of one or three values a pixel.
type warpSource struct {
	cols, rows, channels int
	pix                  []uint16
}

func warp(ctx context.Context, src warpSource, h layout.Homography, w, ht int, target func() []uint16) error {
	if src.cols < 1 || src.rows < 1 {
		return fmt.Errorf("picture of %d x %d pixels is empty: open one first", src.cols, src.rows)
	}
	if w < 1 || ht < 1 || int64(w)*int64(ht) > layout.MaxDots {
		return fmt.Errorf("warped picture of %d x %d pixels is outside 1 to %d million pixels: choose another size",
			w, ht, layout.MaxDots/1_000_000)
	}
	if err := possible(h, w, ht); err != nil {
		return err
	}
	pix := target()
	return plane.SplitRows(ctx, ht, func(ctx context.Context, y0, y1 int) error {
		s := newWarpSampler(src, h)
		for y := y0; y < y1; y++ {
			row := pix[src.channels*w*y : src.channels*w*(y+1)]
			for x := range w {
				// The work of one pixel grows with what it spans; it is counted, so that
				// a much shrunk row does not hold up the end.
				if s.work > workBetweenLooks {
					s.work = 0
					if err := ctx.Err(); err != nil {
						return err
					}
				}
				s.sample(float64(x)+0.5, float64(y)+0.5, row[src.channels*x:src.channels*(x+1)])
			}
		}
		return ctx.Err()
	})
}

// workBetweenLooks is in source pixels.
const workBetweenLooks = 1 << 21

// possible looks at the corners: depth is least at one of them, and so, as the
// derivatives all are over the depth, shrinking is most near one.
func possible(h layout.Homography, w, ht int) error {
	for _, row := range h {
		for _, v := range row {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("warp holds the value %v: mark the corners anew", v)
			}
		}
	}
	if !h.InFront(w, ht) {
		return fmt.Errorf("warped picture of %d x %d pixels reaches beyond the horizon of what the corners show: mark corners that lie nearer together", w, ht)
	}
	for _, x := range []float64{0.5, float64(w) - 0.5} {
		for _, y := range []float64{0.5, float64(ht) - 0.5} {
			_, _, across, down := footprint(h, x, y)
			if shrink := math.Max(across, down); !(shrink <= maxShrink) {
				return fmt.Errorf("warped picture of %d x %d pixels shows the source %.0f times smaller, more than %d: choose a larger size", w, ht, shrink, maxShrink)
			}
		}
	}
	return nil
}

// footprint is where h takes a point, and how far apart, along x and along y,
// the places are that neighbours on a circle of one pixel's diameter go to: the
// spans of the ellipse that h makes of the circle, at least 1.
func footprint(h layout.Homography, x, y float64) (u, v, across, down float64) {
	over := 1 / (h[2][0]*x + h[2][1]*y + h[2][2])
	u = (h[0][0]*x + h[0][1]*y + h[0][2]) * over
	v = (h[1][0]*x + h[1][1]*y + h[1][2]) * over
	across = span((h[0][0]-u*h[2][0])*over, (h[0][1]-u*h[2][1])*over)
	down = span((h[1][0]-v*h[2][0])*over, (h[1][1]-v*h[2][1])*over)
	return u, v, across, down
}

// sameSize is how much shrinking passes for none: a turned picture's span is 1
// but for rounding, and need not have a fifth tap for it.
const sameSize = 1.0001

func span(dx, dy float64) float64 {
	if d := math.Sqrt(dx*dx + dy*dy); d > sameSize {
		return d
	}
	return 1
}
