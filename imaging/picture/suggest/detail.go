package suggest

import (
	"context"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// detail is how much of a picture's detail lies where, as running sums over the
// cells of its small copy.
type detail struct {
	cols, rows    int
	width, height float64   // of the picture, pixels
	sums          []float64 // of all cells above and left, (rows+1) x (cols+1); 1 in all
	even          bool      // there is none; every place counts alike
}

// Steps of lightness between neighbouring cells, in L*: below the first it is grain,
// and above the second no more detail, only a harder edge. Common practice, no
// source.
const grain, hardest = 1, 15

// detailOf measures the slope of lightness at each cell by the Sobel operator.
// Source: I. Sobel, G. Feldman, "A 3x3 isotropic gradient operator for image
// processing", Stanford Artificial Intelligence Project, 1968 (from memory).
func detailOf(ctx context.Context, light *plane.Grey16) (*detail, error) {
	copied, err := reduced(ctx, light)
	if err != nil {
		return nil, err
	}
	d := &detail{cols: copied.W, rows: copied.H, width: float64(light.W), height: float64(light.H)}
	lightness := make([]float64, len(copied.Pix))
	for i, v := range copied.Pix {
		lightness[i] = colour.LStar(float64(v) / math.MaxUint16)
	}
	at := func(x, y int) float64 {
		return lightness[min(max(y, 0), d.rows-1)*d.cols+min(max(x, 0), d.cols-1)]
	}
	slopes := make([]float64, len(lightness))
	total := 0.0
	for i := range slopes {
		x, y := i%d.cols, i/d.cols
		across := at(x+1, y-1) - at(x-1, y-1) + 2*(at(x+1, y)-at(x-1, y)) + at(x+1, y+1) - at(x-1, y+1)
		down := at(x-1, y+1) - at(x-1, y-1) + 2*(at(x, y+1)-at(x, y-1)) + at(x+1, y+1) - at(x+1, y-1)
		slope := math.Hypot(across, down) / 8
		slopes[i] = math.Min(math.Max(slope-grain, 0), hardest)
		total += slopes[i]
	}
	if total == 0 {
		d.even = true
		for i := range slopes {
			slopes[i] = 1
		}
		total = float64(len(slopes))
	}
	d.add(slopes, total)
	return d, nil
}

// add makes the running sums.
func (d *detail) add(slopes []float64, total float64) {
	d.sums = make([]float64, (d.rows+1)*(d.cols+1))
	for y := range d.rows {
		row := 0.0
		for x := range d.cols {
			row += slopes[y*d.cols+x] / total
			d.sums[(y+1)*(d.cols+1)+x+1] = d.sums[y*(d.cols+1)+x+1] + row
		}
	}
}

// before is the detail above and left of a point, a cell's spread evenly over it.
func (d *detail) before(x, y float64) float64 {
	u := math.Min(math.Max(x/d.width, 0), 1) * float64(d.cols)
	v := math.Min(math.Max(y/d.height, 0), 1) * float64(d.rows)
	i, j := min(int(u), d.cols-1), min(int(v), d.rows-1)
	u, v = u-float64(i), v-float64(j)
	s := d.sums[j*(d.cols+1)+i:]
	t := s[d.cols+1:]
	return (s[0]*(1-u)+s[1]*u)*(1-v) + (t[0]*(1-u)+t[1]*u)*v
}

// in is the share of the detail inside a crop.
func (d *detail) in(c layout.Crop) float64 {
	return d.before(c.X+c.W, c.Y+c.H) - d.before(c.X, c.Y+c.H) - d.before(c.X+c.W, c.Y) + d.before(c.X, c.Y)
}

// areaIn is the share of the picture inside a rectangle that may reach past it.
func (d *detail) areaIn(c layout.Crop) float64 {
	w := math.Min(c.X+c.W, d.width) - math.Max(c.X, 0)
	h := math.Min(c.Y+c.H, d.height) - math.Max(c.Y, 0)
	return math.Max(w, 0) * math.Max(h, 0) / (d.width * d.height)
}

// centre is the centre of the detail inside a crop, found from strips of it.
func (d *detail) centre(c layout.Crop) (x, y float64) {
	const strips = 64
	all := d.in(c)
	if all <= 0 {
		return c.X + c.W/2, c.Y + c.H/2
	}
	for i := range strips {
		from := float64(i) / strips
		column := d.in(layout.Crop{X: c.X + from*c.W, Y: c.Y, W: c.W / strips, H: c.H})
		row := d.in(layout.Crop{X: c.X, Y: c.Y + from*c.H, W: c.W, H: c.H / strips})
		x += (c.X + (from+0.5/strips)*c.W) * column / all
		y += (c.Y + (from+0.5/strips)*c.H) * row / all
	}
	return x, y
}
