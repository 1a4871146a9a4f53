package session

import (
	"context"
	"image"
	"reflect"
	"sync"

	"undercoat/imaging/colour"
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
	v.Mark = scene.Mark{A: at(wall.Mark.A), B: at(wall.Mark.B), LengthMM: wall.Mark.LengthMM, Centre: at(wall.Mark.Centre)}
	return v, nil
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
