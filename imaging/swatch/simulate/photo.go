package simulate

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// Shot is a photograph and where it shows what.
type Shot struct {
	JPEG    []byte
	Image   *image.RGBA            // before JPEG
	Corners [4]layout.PicturePoint // the chart's marks: upper left, upper right, lower right, lower left of the chart
	ToPixel func(layout.Point) layout.PicturePoint
}

// Photo photographs the burned chart.
func (s Scene) Photo(ctx context.Context) (Shot, error) {
	panel, err := s.burned(ctx)
	if err != nil {
		return Shot{}, err
	}
	cam := s.camera()
	img := image.NewRGBA(image.Rect(0, 0, cam.w, cam.h))
	err = plane.SplitRows(ctx, cam.h, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			s.exposeRow(img, y, panel, cam)
		}
		return nil
	})
	if err != nil {
		return Shot{}, err
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: orDefault(s.Quality, 85)}); err != nil {
		return Shot{}, err
	}
	shot := Shot{JPEG: b.Bytes(), Image: img, ToPixel: cam.pixel}
	for i, p := range s.Chart.Marks {
		shot.Corners[i] = cam.pixel(p)
	}
	return shot, nil
}

// ToPixel is where the photograph will show a place of the chart.
func (s Scene) ToPixel(p layout.Point) layout.PicturePoint { return s.camera().pixel(p) }

// exposeRow takes one row of the photograph; each row has noise of its own seed.
func (s Scene) exposeRow(img *image.RGBA, y int, p *panel, cam camera) {
	rng := rand.New(rand.NewPCG(s.Seed, uint64(y)+2))
	cast := s.Cast
	if cast == ([3]float64{}) {
		cast = [3]float64{1, 1, 1}
	}
	exposure := orDefault(s.Exposure, 0.9)
	for x := range cam.w {
		light := exposure * s.light(x, y, cam)
		seen := s.colourAt(x, y, p, cam)
		for k := range 3 {
			v := float64(seen[k]) * light * cast[k]
			// Half of the noise is the sensor's own, half comes with the light.
			v += s.Noise * math.Sqrt(0.1+0.9*max(0, v)) * rng.NormFloat64()
			img.Pix[img.PixOffset(x, y)+k] = encode(v)
		}
		img.Pix[img.PixOffset(x, y)+3] = 255
	}
}

// colourAt is the mean over two places of a pixel.
func (s Scene) colourAt(x, y int, p *panel, cam camera) (mean [3]float32) {
	if image.Pt(x, y).In(s.Paper) {
		return [3]float32{0.9, 0.9, 0.9}
	}
	for _, off := range [2][2]float64{{0.25, 0.3}, {0.75, 0.7}} {
		mx, my := cam.place(float64(x)+off[0], float64(y)+off[1])
		c, ok := p.at(mx, my)
		if !ok {
			c = [3]float32{float32(s.Desk.R), float32(s.Desk.G), float32(s.Desk.B)}
		}
		for k := range mean {
			mean[k] += c[k] / 2
		}
	}
	return mean
}

// light falls off from a lamp above the left of the middle, as the fourth power of
// a cosine would: to 1-FallOff in the farthest corner.
func (s Scene) light(x, y int, cam camera) float64 {
	dx, dy := float64(x)/float64(cam.w)-0.4, float64(y)/float64(cam.h)-0.45
	farthest := 0.6*0.6 + 0.55*0.55
	k := (1/math.Sqrt(1-s.FallOff) - 1) / farthest
	fall := 1 + k*(dx*dx+dy*dy)
	return 1 / (fall * fall)
}

// table holds the stored value of linear light in steps fine enough for the darks.
var table = func() (t [1 << 14]uint8) {
	for i := range t {
		t[i] = colour.EncodeByte(float64(i) / (1<<14 - 1))
	}
	return t
}()

func encode(v float64) uint8 { return table[int(min(max(v, 0), 1)*(1<<14-1)+0.5)] }

// camera looks at the chart's plane through a pinhole.
type camera struct {
	w, h    int
	m       [3][3]float64 // x, y, 1 in mm to pixels
	inverse layout.Homography
}

// camera puts the chart's centre in the middle of the frame.
func (s Scene) camera() camera {
	cam := camera{w: orDefault(s.W, 4000), h: orDefault(s.H, 3000)}
	const focal = 1.1 // of the frame's width: a phone's lens
	f := focal * float64(cam.w)
	rad := math.Pi / 180
	st, ct := math.Sincos(s.Tilt * rad)
	sw, cw := math.Sincos(s.Swing * rad)
	sr, cr := math.Sincos(s.Roll * rad)
	mirror := 1.0
	if s.Mirrored {
		mirror = -1
	}
	fill := orDefault(s.Fill, 0.7)
	need := max(float64(s.Chart.Size.W)/float64(cam.w), float64(s.Chart.Size.H)/float64(cam.h))
	distance := f * need / fill
	// The chart rolls first, then swings, then tilts.
	place := func(x, y float64) [3]float64 {
		x, y = cr*x-sr*y, sr*x+cr*y
		x, z := cw*x, -sw*x
		y, z = ct*y-st*z, st*y+ct*z
		return [3]float64{mirror * x, y, z}
	}
	ex, ey := place(1, 0), place(0, 1)
	columns := [3][3]float64{ex, ey, {0, 0, distance}}
	for col, v := range columns {
		cam.m[0][col] = f*v[0] + float64(cam.w)/2*v[2]
		cam.m[1][col] = -f*v[1] + float64(cam.h)/2*v[2]
		cam.m[2][col] = v[2]
	}
	cam.inverse, _ = layout.Homography(cam.m).Inverse() // a camera before the chart sees all of it
	return cam
}

func (c camera) pixel(p layout.Point) layout.PicturePoint {
	return layout.Homography(c.m).Apply(layout.PicturePoint{X: float64(p.X), Y: float64(p.Y)})
}

func (c camera) place(x, y float64) (float64, float64) {
	p := c.inverse.Apply(layout.PicturePoint{X: x, Y: y})
	return p.X, p.Y
}
