package plane

// Grey16 is one value a pixel in 1/65535: linear light, or tints (the wanted
// share of burned dots). The name of the variable says which.
type Grey16 struct {
	W, H int
	Pix  []uint16 // W*H values, row after row
}

// NewGrey16 makes a plane of zeros; w and h are at least 0.
func NewGrey16(w, h int) *Grey16 { return &Grey16{W: w, H: h, Pix: make([]uint16, w*h)} }

// Row is the row y, 0..H-1; writing to it writes to the plane.
func (g *Grey16) Row(y int) []uint16 { return g.Pix[y*g.W : (y+1)*g.W : (y+1)*g.W] }

// RGB16 is three values a pixel, red, green, blue, in 1/65535 of linear light.
type RGB16 struct {
	W, H int
	Pix  []uint16 // 3*W*H values, row after row
}

// NewRGB16 makes a black plane; w and h are at least 0.
func NewRGB16(w, h int) *RGB16 { return &RGB16{W: w, H: h, Pix: make([]uint16, 3*w*h)} }

// Row is the row y, 0..H-1, of 3*W values; writing to it writes to the plane.
func (p *RGB16) Row(y int) []uint16 { return p.Pix[3*y*p.W : 3*(y+1)*p.W : 3*(y+1)*p.W] }
