package proof

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"undercoat/imaging/colour"
)

// The neutral greys of a sheet: a coloured surround would mislead the eye.
var (
	sheetGround = colour.Stored{R: 0xe8, G: 0xe8, B: 0xe8}
	sheetInk    = colour.Stored{R: 0x20, G: 0x20, B: 0x20}
)

// Captioned is a proof with lines of text on a neutral band below it. The proof
// itself keeps its pixels.
func Captioned(img *image.RGBA, lines ...string) (*image.RGBA, error) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	p, err := newPen(textSize(w), lines, w)
	if err != nil {
		return nil, err
	}
	out := sheet(w, h+p.height(len(lines)))
	draw.Draw(out, image.Rect(0, 0, w, h), img, img.Rect.Min, draw.Src)
	p.write(out, p.gap(), h, lines)
	return out, nil
}

// Labelled is one proof of a sheet with the lines that stand below it.
type Labelled struct {
	Image *image.RGBA
	Lines []string
}

// SideBySide is a sheet with proofs beside each other, each above its lines, and
// the foot's lines across the whole sheet below them.
func SideBySide(proofs []Labelled, foot ...string) (*image.RGBA, error) {
	if len(proofs) == 0 {
		return nil, fmt.Errorf("a sheet without a proof: give at least one")
	}
	width, high, rows := 0, 0, 0
	var lines []string
	for _, p := range proofs {
		width = max(width, p.Image.Rect.Dx())
		high = max(high, p.Image.Rect.Dy())
		rows = max(rows, len(p.Lines))
		lines = append(lines, p.Lines...)
	}
	p, err := newPen(textSize(2*width), lines, width)
	if err != nil {
		return nil, err
	}
	gap := p.gap()
	total := len(proofs)*(width+gap) + gap
	out := sheet(total, gap+high+p.height(rows)+p.height(len(foot)))
	for i, one := range proofs {
		x := gap + i*(width+gap)
		at := image.Pt(x+(width-one.Image.Rect.Dx())/2, gap)
		draw.Draw(out, one.Image.Rect.Sub(one.Image.Rect.Min).Add(at), one.Image, one.Image.Rect.Min, draw.Src)
		p.write(out, x, gap+high, one.Lines)
	}
	p.write(out, gap, gap+high+p.height(rows), foot)
	return out, nil
}

func sheet(w, h int) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Rect, image.NewUniform(sheetGround), image.Point{}, draw.Src)
	return out
}

// textSize is the height of letters, in pixels, that can be read beside a
// picture of that width.
func textSize(width int) float64 { return min(22, max(11, float64(width)/48)) }

// pen writes lines of text.
type pen struct {
	face font.Face
	line int // pixels from one line to the next
}

var goRegular = sync.OnceValues(func() (*opentype.Font, error) { return opentype.Parse(goregular.TTF) })

// newPen writes letters of a size in pixels, or smaller ones where the longest
// line would not go into width.
func newPen(size float64, lines []string, width int) (*pen, error) {
	f, err := goRegular()
	if err != nil {
		return nil, fmt.Errorf("the built-in font cannot be read: %w", err)
	}
	const least = 8
	for {
		face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
		if err != nil {
			return nil, fmt.Errorf("the built-in font cannot be drawn: %w", err)
		}
		p := &pen{face, face.Metrics().Height.Ceil() * 5 / 4}
		widest := 0
		for _, l := range lines {
			widest = max(widest, font.MeasureString(face, l).Ceil())
		}
		if widest+2*p.gap() <= width || size <= least {
			return p, nil
		}
		size = max(least, size*0.9)
	}
}

func (p *pen) gap() int { return p.line / 2 }

// height is what a block of lines takes with its gaps.
func (p *pen) height(lines int) int {
	if lines == 0 {
		return 0
	}
	return lines*p.line + 2*p.gap()
}

// write puts lines below y, from x on.
func (p *pen) write(onto *image.RGBA, x, y int, lines []string) {
	d := font.Drawer{Dst: onto, Src: image.NewUniform(color.Color(sheetInk)), Face: p.face}
	base := y + p.gap() + p.face.Metrics().Ascent.Ceil()
	for i, l := range lines {
		d.Dot = fixed.P(x, base+i*p.line)
		d.DrawString(l)
	}
}
