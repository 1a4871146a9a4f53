package session

import (
	"context"
	"image"
	"io"
	"reflect"
	"sync"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/scene"
	"undercoat/layout"
)

// Wall says on which wall the panel is shown.
type Wall struct {
	Room  scene.Kind    // drawn by the program
	Paint colour.Stored // of its wall
	// Photo is the client's own wall, in place of a room. Mark says how large it is, in
	// pixels of the whole photograph.
	Photo     *Photo
	Mark      scene.Mark
	Watermark string // written over all of it; empty: none
}

// hung keeps what takes longest of a wall view: the exact proof that hangs there, and
// the photograph of the wall.
type hung struct {
	mu    sync.Mutex
	proof kept[proofKey, *image.RGBA]
	photo kept[photoKey, *image.RGBA]
}

// proofKey is what the proof of a panel is made from. The two pictures and the fonts are
// never changed in place.
type proofKey struct {
	doc job.Document
	pic *picture.Picture
}

func sameProof(a, b proofKey) bool { return a.pic == b.pic && reflect.DeepEqual(a.doc, b.doc) }

type photoKey struct {
	photo *Photo
	long  int
}

// WallView shows the finished panel on a wall: a room is w x h pixels large, a photograph
// at most that. It takes its time: call it beside the window.
func (s *Session) WallView(ctx context.Context, wall Wall, w, h int, progress func(float64)) (*image.RGBA, error) {
	st, _, _ := s.snapshot()
	k := &s.hung
	k.mu.Lock()
	defer k.mu.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err // given up while another view was made
	}
	view, err := k.view(ctx, wall, max(w, h))
	if err != nil {
		return nil, err
	}
	panel, err := k.panel(ctx, st, progress)
	if err != nil {
		return nil, err
	}
	return st.doc.OnWall(ctx, panel, view, w, h)
}

// panel is the exact proof of a moment of the job.
func (k *hung) panel(ctx context.Context, st state, progress func(float64)) (*image.RGBA, error) {
	k.proof.same = sameProof
	return k.proof.get(proofKey{st.doc, st.pic}, func() (*image.RGBA, error) {
		dev, err := st.job().Develop(ctx, st.pic)
		if err != nil {
			return nil, err
		}
		return dev.Proof(ctx, job.ProofRequest{Long: job.WallLong}, progress)
	})
}

// view is the wall with its photograph at most long pixels wide and high, and the mark on
// it.
func (k *hung) view(ctx context.Context, wall Wall, long int) (job.WallView, error) {
	v := job.WallView{Kind: wall.Room, Wall: wall.Paint, Watermark: wall.Watermark}
	if wall.Photo == nil {
		return v, nil
	}
	k.photo.same = equal[photoKey]
	var err error
	v.Photo, err = k.photo.get(photoKey{wall.Photo, long}, func() (*image.RGBA, error) {
		view, _, _, err := wall.Photo.View(ctx, long)
		return view, err
	})
	if err != nil {
		return v, err
	}
	w, h := wall.Photo.pic.Size(picture.Turn{})
	sx, sy := float64(v.Photo.Rect.Dx())/float64(w), float64(v.Photo.Rect.Dy())/float64(h)
	at := func(p layout.PicturePoint) layout.PicturePoint { return layout.PicturePoint{X: p.X * sx, Y: p.Y * sy} }
	v.Mark = wall.Mark
	v.Mark.A, v.Mark.B, v.Mark.Centre = at(wall.Mark.A), at(wall.Mark.B), at(wall.Mark.Centre)
	if c := wall.Mark.Corners; c != nil {
		v.Mark.Corners = &[4]layout.PicturePoint{at(c[0]), at(c[1]), at(c[2]), at(c[3])}
	}
	return v, nil
}

// ColourSets shows the same picture in other stacks on a wall, side by side; each room is
// w x h pixels large. It takes its time: call it beside the window.
func (s *Session) ColourSets(ctx context.Context, wall Wall, stacks []coat.Stack, w, h int, progress func(float64)) (*image.RGBA, error) {
	st, _, _ := s.snapshot()
	k := &s.hung
	k.mu.Lock()
	defer k.mu.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	view, err := k.view(ctx, wall, max(w, h))
	if err != nil {
		return nil, err
	}
	return st.job().ColourSets(ctx, st.pic, stacks, view, w, h, progress)
}

// What is written of a wall, in pixels, where there is no photograph.
const (
	wallWide, wallHigh = 1600, 1200
	setWide, setHigh   = 800, 600 // of each colour set
)

// WriteWall writes a wall to a PNG file: a photograph at its own size, and other stacks
// side by side where some are given. It takes its time: call it beside the window.
func (s *Session) WriteWall(ctx context.Context, path string, wall Wall, stacks []coat.Stack, progress func(float64)) error {
	w, h := wallWide, wallHigh
	if len(stacks) > 0 {
		w, h = setWide, setHigh
	} else if wall.Photo != nil {
		w, h = wall.Photo.pic.Size(picture.Turn{})
	}
	img, err := s.wallOf(ctx, wall, stacks, w, h, progress)
	if err != nil {
		return err
	}
	return export.WriteFile(path, true, func(w io.Writer) error {
		return export.WriteProof(export.UntilDone(ctx, w), img, 0)
	})
}

func (s *Session) wallOf(ctx context.Context, wall Wall, stacks []coat.Stack, w, h int, progress func(float64)) (*image.RGBA, error) {
	if len(stacks) > 0 {
		return s.ColourSets(ctx, wall, stacks, w, h, progress)
	}
	return s.WallView(ctx, wall, w, h, progress)
}

// OnSheet is a wall as a client's sheet shows it. It takes its time: call it beside the
// window.
func (s *Session) OnSheet(ctx context.Context, wall Wall) (*job.WallView, error) {
	k := &s.hung
	k.mu.Lock()
	defer k.mu.Unlock()
	view, err := k.view(ctx, wall, job.WallLong)
	return &view, err
}
