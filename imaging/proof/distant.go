package proof

import (
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// eyeSigma is the standard deviation of the blur of a good eye, as an angle:
// half of one arc minute, which is a plain choice.
const eyeSigma = 0.5 / 60 * math.Pi / 180

// EyeSigmaMM is the standard deviation in mm of the blur on a panel that is
// looked at from a distance in mm.
func EyeSigmaMM(distanceMM float64) float64 { return math.Tan(eyeSigma) * distanceMM }

// maxDistanceMM and maxSigma bound what Distant is asked for.
const (
	maxDistanceMM = 100_000
	maxSigma      = 200.0 // pixels
)

// Distant is a proof as it looks from a distance: what lies closer together than
// about one arc minute merges, in linear light. pixelMM is the width of a pixel
// on the panel. Beyond its edges the picture counts as going on.
func Distant(ctx context.Context, img *image.RGBA, pixelMM, distanceMM float64) (*image.RGBA, error) {
	if !(pixelMM > 0 && pixelMM <= 1000) {
		return nil, fmt.Errorf("pixel of %g mm is out of range: give above 0 and up to 1000 mm", pixelMM)
	}
	if !(distanceMM >= 0 && distanceMM <= maxDistanceMM) {
		return nil, fmt.Errorf("distance of %g mm is out of range: give 0 to %d mm", distanceMM, maxDistanceMM)
	}
	kernel := gauss(min(maxSigma, EyeSigmaMM(distanceMM)/pixelMM))
	w, h, reach := img.Rect.Dx(), img.Rect.Dy(), len(kernel)-1
	light := make([]coat.Light, w*h)
	err := plane.SplitRows(ctx, h, func(ctx context.Context, y0, y1 int) error {
		line := make([]coat.Light, reach+w+reach)
		for y := y0; y < y1 && ctx.Err() == nil; y++ {
			decode(img.Pix[y*img.Stride:], line[reach:reach+w])
			for i := range reach {
				line[i], line[reach+w+i] = line[reach], line[reach+w-1]
			}
			for i := range kernel {
				addTwice(light[y*w:(y+1)*w], line[reach-i:], line[reach+i:], kernel[i])
			}
		}
		return ctx.Err()
	})
	if err != nil {
		return nil, err
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	err = plane.SplitRows(ctx, h, func(ctx context.Context, y0, y1 int) error {
		sums := make([]coat.Light, w)
		for y := y0; y < y1 && ctx.Err() == nil; y++ {
			clear(sums)
			for i := range kernel {
				above, below := max(0, y-i), min(h-1, y+i)
				addTwice(sums, light[above*w:], light[below*w:], kernel[i])
			}
			encode(sums, out.Pix[y*out.Stride:])
		}
		return ctx.Err()
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// gauss is one half of a Gaussian kernel, from the middle outwards; both halves
// together sum to 1. Each weight is the bell's share of its pixel.
func gauss(sigma float64) []float32 {
	reach := int(math.Ceil(4 * sigma))
	if sigma < 0.05 { // narrower than a twentieth of a pixel: nothing to see
		return []float32{0.5}
	}
	half := make([]float64, reach+1)
	sum := 0.0
	for i := range half {
		below := func(edge float64) float64 { return 0.5 * math.Erfc(-edge/(sigma*math.Sqrt2)) }
		half[i] = below(float64(i)+0.5) - below(float64(i)-0.5)
		sum += half[i]
		if i > 0 {
			sum += half[i]
		}
	}
	kernel := make([]float32, len(half))
	for i, v := range half {
		kernel[i] = float32(v / sum)
	}
	kernel[0] /= 2 // the middle is added from both sides
	return kernel
}

// addTwice adds f times both a and b to sums.
func addTwice(sums, a, b []coat.Light, f float32) {
	a, b = a[:len(sums)], b[:len(sums)]
	for i := range sums {
		s, p, q := &sums[i], &a[i], &b[i]
		s.R += f * (p.R + q.R)
		s.G += f * (p.G + q.G)
		s.B += f * (p.B + q.B)
	}
}

var decoded = func() (table [256]float32) {
	for i := range table {
		table[i] = float32(colour.DecodeByte(uint8(i)))
	}
	return table
}()

func decode(pix []byte, line []coat.Light) {
	for x := range line {
		p := pix[4*x : 4*x+3]
		line[x] = coat.Light{R: decoded[p[0]], G: decoded[p[1]], B: decoded[p[2]]}
	}
}

func encode(line []coat.Light, pix []byte) {
	for x, l := range line {
		binary.LittleEndian.PutUint32(pix[4*x:4*x+4], pack(l.R, l.G, l.B))
	}
}
