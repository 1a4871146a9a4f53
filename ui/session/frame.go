package session

import (
	"image"
	"math"
	"slices"

	"undercoat/imaging/picture"
	"undercoat/layout"
)

// View is what the easel shows in the picture area.
type View uint8

const (
	// PictureView is the cropped and toned picture.
	PictureView View = iota
	// DotsView is the raster, burned dots dark.
	DotsView
	// ProofView is the panel as it is predicted to look.
	ProofView
)

// Frame is the picture that the easel wants: a view of a part of the picture
// area on so many screen pixels.
type Frame struct {
	View View
	// Part of the picture area, in shares of its width and height from its
	// upper left corner; the zero value is all of it.
	Part Part
	W, H int // screen pixels; nothing is made while either is 0
	// Other shows what the job is compared with: see Session.Compare.
	Other bool
}

// Part is a rectangle in shares of the picture area, x to the right and y down
// from its upper left corner.
type Part struct{ X, Y, W, H float64 }

// Whole is the whole picture area.
var Whole = Part{0, 0, 1, 1}

// Picture is a finished picture for the easel.
type Picture struct {
	Frame      Frame
	Generation uint64 // rises with every change of the job or of what is shown
	Image      *image.RGBA
	Area       layout.Area // of the panel, that it covers
	Exact      bool        // made from the dots themselves
	Working    bool        // a more exact one follows
	Last       bool        // nothing follows until the next change
	Err        error       // nothing could be made; the others are unset
}

// Show tells the worker what to show: the first frame is made first. There may
// be one of the whole and, when the easel is zoomed in, one of the visible part.
func (s *Session) Show(frames ...Frame) {
	for i := range frames {
		if frames[i].Part == (Part{}) {
			frames[i].Part = Whole
		}
	}
	s.mu.Lock()
	same := slices.Equal(s.frames, frames)
	s.frames = slices.Clone(frames)
	if !same {
		s.generation++
	}
	s.mu.Unlock()
	if !same {
		s.worker.wake()
	}
}

// snapshot is the job as it is and what is shown of it. The frames are never changed
// in place.
func (s *Session) snapshot() (state, []Frame, uint64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now, s.frames, s.generation
}

// Generation is that of the pictures which belong to the job and the frames as
// they are now.
func (s *Session) Generation() uint64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.generation
}

// Of is the area on the panel that the part of a raster covers.
func (p Part) Of(raster layout.Area) layout.Area {
	w, h := raster.Size.W, raster.Size.H
	return layout.Area{
		Centre: layout.Point{
			X: raster.Centre.X + w*layout.MM(p.X+p.W/2-0.5),
			Y: raster.Centre.Y - h*layout.MM(p.Y+p.H/2-0.5),
		},
		Size: layout.Size{W: w * layout.MM(p.W), H: h * layout.MM(p.H)},
	}
}

// onPicture is where a view of the part, wide pixels wide, lies on the picture area.
func (p Part) onPicture(st state, wide int) picture.Part {
	area := st.placement().Area.Size
	return picture.Part{
		PerMM: float64(wide) / (p.W * float64(area.W)),
		Right: layout.MM(p.X) * area.W,
		Down:  layout.MM(p.Y) * area.H,
	}
}

// crop is the part of a crop that a part of the picture area shows.
func (p Part) crop(c layout.Crop) layout.Crop {
	return layout.Crop{X: c.X + p.X*c.W, Y: c.Y + p.Y*c.H, W: p.W * c.W, H: p.H * c.H}
}

// dots is the smallest rectangle of whole dots that holds the part, of a raster
// of cols x rows.
func (p Part) dots(cols, rows int) image.Rectangle {
	const slack = 1e-6 // of a dot: snapping twice must not grow the part
	floor := func(v float64) int { return int(math.Floor(v + slack)) }
	ceil := func(v float64) int { return int(math.Ceil(v - slack)) }
	w, h := float64(cols), float64(rows)
	r := image.Rect(floor(p.X*w), floor(p.Y*h), ceil((p.X+p.W)*w), ceil((p.Y+p.H)*h))
	return r.Intersect(image.Rect(0, 0, cols, rows))
}

// snapped is the part grown to whole dots, so that every view of a frame covers
// the same piece of the panel.
func (p Part) snapped(cols, rows int) Part {
	r := p.dots(cols, rows)
	w, h := float64(cols), float64(rows)
	return Part{float64(r.Min.X) / w, float64(r.Min.Y) / h, float64(r.Dx()) / w, float64(r.Dy()) / h}
}
