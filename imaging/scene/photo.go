package scene

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// Mark says how large a photo of a wall is, and where the panel hangs in it.
// Points are in pixels of the photo, from its upper left corner.
type Mark struct {
	// A and B are the ends of something on the wall whose length is known, in a photo
	// that was taken straight on and level.
	A, B     layout.PicturePoint
	LengthMM layout.MM
	// Corners are those of an upright rectangle on the wall of known size, such as a
	// door or a sheet of paper: upper left, upper right, lower right, lower left.
	// They serve in place of A and B for a photo taken aslant.
	Corners   *[4]layout.PicturePoint
	CornersMM layout.Size
	// Centre is where the middle of the panel goes.
	Centre layout.PicturePoint
}

// errNoScale is what a photo without a mark gets.
var errNoScale = errors.New("the photo of the wall has no scale: mark the two ends of something on it whose length you know, and type that length")

// minMark is the shortest mark that a scale is taken from, in pixels: a pixel's slip
// is then a twentieth.
const minMark = 20

// OnPhoto hangs a panel on a photo of a wall and gives the photo with it. The
// room of the options is not asked for. The panel keeps the proof's own colours:
// a photo does not say how bright its wall is.
func OnPhoto(ctx context.Context, photo *image.RGBA, m Mark, o Options) (*image.RGBA, error) {
	if photo == nil || photo.Rect.Empty() {
		return nil, errors.New("the photo of the wall is empty: open one first")
	}
	if n := int64(photo.Rect.Dx()) * int64(photo.Rect.Dy()); n > maxPhoto {
		return nil, fmt.Errorf("photo of %d million pixels is more than %d million: make it smaller first", n/1e6, maxPhoto/1_000_000)
	}
	if err := o.validate(); err != nil {
		return nil, err
	}
	at, err := m.wall(photo.Rect.Size())
	if err != nil {
		return nil, err
	}
	return at.hang(ctx, photo, o)
}

// Outline is where the corners of a panel come to lie in a photo of that size: upper left,
// upper right, lower right, lower left. What the mark lacks, or a panel that reaches past
// the photo, is an error.
func (m Mark) Outline(photo image.Point, panel layout.Size) ([4]layout.PicturePoint, error) {
	at, err := m.wall(photo)
	if err != nil {
		return [4]layout.PicturePoint{}, err
	}
	quad := at.quad(faceOf(panel))
	return quad, inPhoto(quad, panel, photo)
}

// inPhoto refuses a panel that reaches past the photo.
func inPhoto(quad [4]layout.PicturePoint, panel layout.Size, photo image.Point) error {
	if outer(quad).In(image.Rectangle{Max: photo}) {
		return nil
	}
	return fmt.Errorf("panel of %s reaches past the photo of %d x %d pixels: move its middle or take a photo with more of the wall",
		layout.Millimetre.FormatSize(panel), photo.X, photo.Y)
}

// faceOf is a panel about the middle that its places are measured from.
func faceOf(panel layout.Size) box {
	w, h := float64(panel.W/2), float64(panel.H/2)
	return box{-w, -h, w, h}
}

// onWall takes places on the wall, in mm from the panel's middle with y up, to
// pixels of a photo, and back.
type onWall struct{ toPhoto, toWall layout.Homography }

// wall finds the wall in the photo.
func (m Mark) wall(size image.Point) (onWall, error) {
	for _, v := range []float64{m.Centre.X, m.Centre.Y} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return onWall{}, fmt.Errorf("the panel's middle is at %v: click where it goes", m.Centre)
		}
	}
	if m.Centre.X < 0 || m.Centre.Y < 0 || m.Centre.X > float64(size.X) || m.Centre.Y > float64(size.Y) {
		return onWall{}, fmt.Errorf("the panel's middle at %g,%g lies outside the photo of %d x %d pixels: choose a place on the wall",
			m.Centre.X, m.Centre.Y, size.X, size.Y)
	}
	if m.Corners != nil {
		return m.aslant()
	}
	return m.straight()
}

func (m Mark) straight() (onWall, error) {
	length := math.Hypot(m.B.X-m.A.X, m.B.Y-m.A.Y)
	if length == 0 && m.LengthMM == 0 {
		return onWall{}, errNoScale
	}
	if !(m.LengthMM > 0 && m.LengthMM <= layout.MaxLength) {
		return onWall{}, fmt.Errorf("marked length %s is not possible: type the length in the photo, above 0 and up to 10000 mm", layout.Millimetre.Format(m.LengthMM))
	}
	if !(length >= minMark) || math.IsInf(length, 1) {
		return onWall{}, fmt.Errorf("mark of %.3g pixels is too short for a scale: mark something longer on the wall, of %d pixels or more", length, minMark)
	}
	perMM := length / float64(m.LengthMM)
	return onWall{
		toPhoto: layout.Homography{{perMM, 0, m.Centre.X}, {0, -perMM, m.Centre.Y}, {0, 0, 1}},
		toWall:  layout.Homography{{1 / perMM, 0, -m.Centre.X / perMM}, {0, -1 / perMM, m.Centre.Y / perMM}, {0, 0, 1}},
	}, nil
}

// aslant goes by the rectangle: from its corners in mm to those in the photo, and
// then with the panel's middle moved to 0,0.
func (m Mark) aslant() (onWall, error) {
	if err := m.CornersMM.Validate(); err != nil {
		return onWall{}, fmt.Errorf("marked rectangle: %w", err)
	}
	w, h := float64(m.CornersMM.W), float64(m.CornersMM.H)
	flat := [4]layout.PicturePoint{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}
	back, err := layout.FourPoints(*m.Corners, flat)
	if err != nil {
		return onWall{}, fmt.Errorf("marked rectangle: %w", err)
	}
	c := back.Apply(m.Centre)
	// y runs up on the wall: the same corners, named as seen from the panel's middle.
	var up [4]layout.PicturePoint
	for i, p := range flat {
		up[i] = layout.PicturePoint{X: p.X - c.X, Y: p.Y - c.Y}
	}
	toPhoto, err := layout.FourPoints(up, *m.Corners)
	if err != nil {
		return onWall{}, fmt.Errorf("marked rectangle: %w", err)
	}
	toWall, err := toPhoto.Inverse()
	if err != nil {
		return onWall{}, fmt.Errorf("marked rectangle: %w", err)
	}
	return onWall{flipped(toPhoto), flippedBack(toWall)}, nil
}

// flipped takes points with y up by a homography for y down.
func flipped(h layout.Homography) layout.Homography {
	for i := range h {
		h[i][1] = -h[i][1]
	}
	return h
}

// flippedBack gives points with y up of a homography to y down.
func flippedBack(h layout.Homography) layout.Homography {
	for j := range h[1] {
		h[1][j] = -h[1][j]
	}
	return h
}

// hang draws the panel with its shadows over a copy of the photo.
func (w onWall) hang(ctx context.Context, photo *image.RGBA, o Options) (*image.RGBA, error) {
	face := faceOf(o.PanelMM)
	quad := w.quad(face)
	frame := image.Rectangle{Max: photo.Rect.Size()}
	if err := inPhoto(quad, o.PanelMM, frame.Max); err != nil {
		return nil, err
	}
	r := outer(quad)
	pixels, err := seen(ctx, o.Panel, quad, r)
	if err != nil {
		return nil, fmt.Errorf("panel on the photo: %w", err)
	}
	gleam, err := sheen(o.Finish)
	if err != nil {
		return nil, err
	}
	h := hung{face: face, edge: float64(o.EdgeMM), rim: o.EdgeColour.Linear(), gleam: gleam, pixels: pixels, at: r.Min}
	return w.draw(ctx, photo, h, w.touched(face.grown(h.reach()), frame))
}

func (w onWall) quad(b box) [4]layout.PicturePoint {
	to := func(x, y float64) layout.PicturePoint { return w.toPhoto.Apply(layout.PicturePoint{X: x, Y: y}) }
	return [4]layout.PicturePoint{to(b.x0, b.y1), to(b.x1, b.y1), to(b.x1, b.y0), to(b.x0, b.y0)}
}

// touched is the part of a photo that may show any of b: all of it where b reaches
// behind the camera.
func (w onWall) touched(b box, frame image.Rectangle) image.Rectangle {
	for _, c := range [4][2]float64{{b.x0, b.y0}, {b.x1, b.y0}, {b.x0, b.y1}, {b.x1, b.y1}} {
		if !(depth(w.toPhoto, c[0], c[1])*depth(w.toPhoto, 0, 0) > 0) {
			return frame
		}
	}
	return outer(w.quad(b)).Intersect(frame)
}

// depth has one sign before the horizon and the other beyond.
func depth(h layout.Homography, x, y float64) float64 { return h[2][0]*x + h[2][1]*y + h[2][2] }

// spotAt is the wall's place in the middle of a pixel and the pixel's side there.
// Beyond the wall's horizon there is none, which is a place out of reach.
func (w onWall) spotAt(x, y int) spot {
	if middle := w.toPhoto.Apply(layout.PicturePoint{}); !(depth(w.toWall, float64(x)+0.5, float64(y)+0.5)*depth(w.toWall, middle.X, middle.Y) > 0) {
		return spot{math.Inf(1), math.Inf(1), 1}
	}
	p := w.toWall.Apply(layout.PicturePoint{X: float64(x) + 0.5, Y: float64(y) + 0.5})
	right := w.toWall.Apply(layout.PicturePoint{X: float64(x) + 1.5, Y: float64(y) + 0.5})
	down := w.toWall.Apply(layout.PicturePoint{X: float64(x) + 0.5, Y: float64(y) + 1.5})
	across, along := math.Hypot(right.X-p.X, right.Y-p.Y), math.Hypot(down.X-p.X, down.Y-p.Y)
	return spot{p.X, p.Y, math.Sqrt(across * along)}
}

func (w onWall) draw(ctx context.Context, photo *image.RGBA, h hung, touched image.Rectangle) (*image.RGBA, error) {
	out := image.NewRGBA(image.Rect(0, 0, photo.Rect.Dx(), photo.Rect.Dy()))
	middle := w.toPhoto.Apply(layout.PicturePoint{})
	layers := append(h.shadows(), h.edges(w.spotAt(int(middle.X), int(middle.Y)).px)...)
	err := plane.SplitRows(ctx, out.Rect.Dy(), func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			row := out.Pix[y*out.Stride:][:4*out.Rect.Dx()]
			copy(row, photo.Pix[y*photo.Stride:])
			if y < touched.Min.Y || y >= touched.Max.Y {
				continue
			}
			for x := touched.Min.X; x < touched.Max.X; x++ {
				w.overlay(row[4*x:4*x+4], x, y, h, layers)
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// overlay lays the panel and its shadows over one pixel of the photo.
func (w onWall) overlay(pixel []uint8, x, y int, h hung, layers []layer) {
	under := colour.Stored{R: pixel[0], G: pixel[1], B: pixel[2]}.Linear()
	s, light := w.spotAt(x, y), under
	for _, l := range layers {
		if in := l.in.grown(s.px); s.x > in.x0 && s.x < in.x1 && s.y > in.y0 && s.y < in.y1 {
			light = l.paint(s, light)
		}
	}
	chance := grit(x, y)
	if cover := rectangle(h.face).cover(s); cover > 0 {
		light, chance = colour.Mix(light, h.shown(s, x, y), cover), 0.5
	}
	if light != under {
		store(pixel, light, chance)
	}
}
