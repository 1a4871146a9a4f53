package proof

import (
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"math"

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
	w, h := img.Rect.Dx(), img.Rect.Dy()
	light := make([]float32, 3*w*h)
	err := plane.SplitRows(ctx, h, func(ctx context.Context, y0, y1 int) error {
		line := make([]float32, 3*w)
		for y := y0; y < y1; y++ {
			decode(img.Pix[y*img.Stride:][:4*w], line)
			blurLine(line, light[3*w*y:3*w*(y+1)], kernel)
			if ctx.Err() != nil {
				return ctx.Err()
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	return out, plane.SplitRows(ctx, h, func(ctx context.Context, y0, y1 int) error {
		sums := make([]float32, 3*w)
		for y := y0; y < y1; y++ {
			blurDown(light, sums, y, h, kernel)
			encodeLine(sums, out.Pix[y*out.Stride:])
			if ctx.Err() != nil {
				return ctx.Err()
			}
		}
		return nil
	})
}

// gauss is one half of a Gaussian kernel, from the middle outwards, which sums
// to 1 over both halves. Each weight is the bell's share of its pixel.
func gauss(sigma float64) []float32 {
	reach := int(math.Ceil(4 * sigma))
	if sigma < 0.05 { // narrower than a twentieth of a pixel: nothing to see
		return []float32{1}
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
	return kernel
}

func decode(pix []byte, line []float32) {
	for x := 0; x < len(line)/3; x++ {
		for c := range 3 {
			line[3*x+c] = float32(colour.DecodeByte(pix[4*x+c]))
		}
	}
}

func encodeLine(line []float32, pix []byte) {
	for x := 0; x < len(line)/3; x++ {
		binary.LittleEndian.PutUint32(pix[4*x:], pack(line[3*x], line[3*x+1], line[3*x+2]))
	}
}

func blurLine(from, to, kernel []float32) {
	w := len(from) / 3
	for x := range w {
		r, g, b := kernel[0]*from[3*x], kernel[0]*from[3*x+1], kernel[0]*from[3*x+2]
		for i := 1; i < len(kernel); i++ {
			left, right := 3*max(0, x-i), 3*min(w-1, x+i)
			r += kernel[i] * (from[left] + from[right])
			g += kernel[i] * (from[left+1] + from[right+1])
			b += kernel[i] * (from[left+2] + from[right+2])
		}
		to[3*x], to[3*x+1], to[3*x+2] = r, g, b
	}
}

// blurDown puts the line y, blurred down the picture, into sums.
func blurDown(light, sums []float32, y, h int, kernel []float32) {
	row := func(y int) []float32 {
		y = min(h-1, max(0, y))
		return light[y*len(sums) : (y+1)*len(sums)]
	}
	for i, v := range row(y) {
		sums[i] = kernel[0] * v
	}
	for k := 1; k < len(kernel); k++ {
		above, below := row(y-k), row(y+k)
		for i := range sums {
			sums[i] += kernel[k] * (above[i] + below[i])
		}
	}
}
