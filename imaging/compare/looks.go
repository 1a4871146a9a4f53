package compare

import (
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// looks is a small picture of the panel in linear light.
type looks struct {
	w, h int
	pix  [][3]float32
}

func newLooks(w, h int) *looks { return &looks{w, h, make([][3]float32, w*h)} }

func looksOf(img *image.RGBA) *looks {
	l := newLooks(img.Rect.Dx(), img.Rect.Dy())
	for i := range l.pix {
		p := img.Pix[i/l.w*img.Stride+i%l.w*4:]
		v := colour.Stored{R: p[0], G: p[1], B: p[2]}.Linear()
		l.pix[i] = [3]float32{float32(v.R), float32(v.G), float32(v.B)}
	}
	return l
}

func looksOfPlane(p *plane.RGB16) *looks {
	l := newLooks(p.W, p.H)
	for i := range l.pix {
		for c := range 3 {
			l.pix[i][c] = float32(p.Pix[3*i+c]) / math.MaxUint16
		}
	}
	return l
}

// terms of the slow field at pixel i.
func (l *looks) terms(i int) [terms]float64 {
	return fieldAt(2*(float64(i%l.w)+0.5)/float64(l.w)-1, 2*(float64(i/l.w)+0.5)/float64(l.h)-1)
}

func (l *looks) lab(i int) colour.Lab {
	p := l.pix[i]
	return colour.Linear{R: float64(p[0]), G: float64(p[1]), B: float64(p[2])}.Lab()
}

// luminance of pixel i.
func (l *looks) luminance(i int) float64 {
	p := l.pix[i]
	return 0.2126*float64(p[0]) + 0.7152*float64(p[1]) + 0.0722*float64(p[2])
}

// lightness is the picture in L*, blurred by a box of the given reach so that dots and
// noise do not lead astray.
func (l *looks) lightness(reach int) []float64 {
	raw := make([]float64, len(l.pix))
	for i := range raw {
		raw[i] = colour.LStar(min(1, max(0, l.luminance(i))))
	}
	return boxed(boxed(raw, l.w, l.h, reach), l.w, l.h, reach)
}

func boxed(in []float64, w, h, reach int) []float64 {
	across := make([]float64, len(in))
	for y := range h {
		for x := range w {
			sum, n := 0.0, 0
			for k := max(0, x-reach); k <= min(w-1, x+reach); k++ {
				sum, n = sum+in[y*w+k], n+1
			}
			across[y*w+x] = sum / float64(n)
		}
	}
	out := make([]float64, len(in))
	for y := range h {
		for x := range w {
			sum, n := 0.0, 0
			for k := max(0, y-reach); k <= min(h-1, y+reach); k++ {
				sum, n = sum+across[k*w+x], n+1
			}
			out[y*w+x] = sum / float64(n)
		}
	}
	return out
}

// Before looks are held against each other they are blurred by softened pixels and
// reduced: dots, grain and a corner that is off by a hair would count otherwise, and
// count for the factor under which the panel has least contrast.
const (
	softened  = 3
	reducedBy = 3
)

// soft is the looks blurred.
func (l *looks) soft() *looks {
	out := newLooks(l.w, l.h)
	one := make([]float64, len(l.pix))
	for c := range 3 {
		for i, p := range l.pix {
			one[i] = float64(p[c])
		}
		for i, v := range boxed(boxed(one, l.w, l.h, softened), l.w, l.h, softened) {
			out.pix[i][c] = float32(v)
		}
	}
	return out
}

// reduced is the looks blurred and made smaller.
func (l *looks) reduced() *looks {
	soft := l.soft()
	out := newLooks((l.w+reducedBy-1)/reducedBy, (l.h+reducedBy-1)/reducedBy)
	for i := range out.pix {
		x, y := min(l.w-1, i%out.w*reducedBy+reducedBy/2), min(l.h-1, i/out.w*reducedBy+reducedBy/2)
		out.pix[i] = soft.pix[y*l.w+x]
	}
	return out
}
