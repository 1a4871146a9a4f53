package session_test

import (
	"errors"
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/layout"
	"undercoat/ui/session"
)

// lastOf waits for the last picture of the job as it is, and gives the last of each
// side of the line.
func lastOf(t *testing.T, s *session.Session, pictures <-chan session.Picture) (own, other session.Picture) {
	t.Helper()
	for {
		p := next(t, pictures)
		if p.Generation != s.Generation() {
			continue
		}
		if p.Frame.Other {
			other = p
		} else {
			own = p
		}
		if p.Last {
			return own, other
		}
	}
}

// onScreen is what a job shows by itself after a change.
func onScreen(t *testing.T, f session.Frame, change func(*job.Document)) session.Picture {
	t.Helper()
	pictures := make(chan session.Picture, 64)
	s := open(t, func(p session.Picture) { pictures <- p })
	if change != nil {
		edit(t, s, change)
	}
	s.Show(f)
	own, _ := lastOf(t, s, pictures)
	require.NoError(t, own.Err)
	return own
}

var (
	ownFrame   = session.Frame{View: session.ProofView, W: 120, H: 160}
	otherFrame = session.Frame{View: session.ProofView, W: 120, H: 160, Other: true}
)

func TestAnotherSettingIsComparedWith(t *testing.T) {
	stack, err := job.FindStack("slate-cream")
	require.NoError(t, err)
	for name, change := range map[string]func(*job.Document){
		"power":  func(d *job.Document) { d.Setting.PowerPercent = 31 },
		"stack":  func(d *job.Document) { d.Stack = stack.Clone() },
		"border": func(d *job.Document) { d.Border = layout.Even(12) },
	} {
		t.Run(name, func(t *testing.T) {
			pictures := make(chan session.Picture, 64)
			s := open(t, func(p session.Picture) { pictures <- p })
			before := s.Document()
			s.Compare(&session.Other{Change: func(d *job.Document) error { change(d); return nil }})
			s.Show(ownFrame, otherFrame)
			own, other := lastOf(t, s, pictures)
			require.NoError(t, other.Err)
			require.True(t, other.Exact)
			want := onScreen(t, ownFrame, change)
			require.Equal(t, want.Image.Pix, other.Image.Pix)
			require.Equal(t, want.Area, other.Area, "it lies where its own panel has it")
			require.Equal(t, onScreen(t, ownFrame, nil).Image.Pix, own.Image.Pix)
			require.Equal(t, before, s.Document(), "the job itself stays as it is")
			undo, _ := s.StepNames()
			require.Empty(t, undo)
		})
	}
}

func TestTheJobBeforeItsLastStepIsComparedWith(t *testing.T) {
	pictures := make(chan session.Picture, 64)
	s := open(t, func(p session.Picture) { pictures <- p })
	s.Compare(&session.Other{LastStep: true})
	s.Show(ownFrame, otherFrame)
	own, other := lastOf(t, s, pictures)
	require.Equal(t, own.Image.Pix, other.Image.Pix, "without a step there is no other")

	edit(t, s, func(d *job.Document) { d.Picture.Tone.Mid = 0.6 })
	now, before := lastOf(t, s, pictures)
	require.Equal(t, own.Image.Pix, before.Image.Pix)
	require.NotEqual(t, before.Image.Pix, now.Image.Pix)
}

func TestTheSameDotsBurnOtherwise(t *testing.T) {
	for _, v := range proof.Variations()[1:] {
		t.Run(string(v), func(t *testing.T) {
			pictures := make(chan session.Picture, 64)
			s := open(t, func(p session.Picture) { pictures <- p })
			s.Compare(&session.Other{Burn: v})
			s.Show(ownFrame, otherFrame)
			own, other := lastOf(t, s, pictures)
			require.NoError(t, other.Err)
			require.NotEqual(t, own.Image.Pix, other.Image.Pix)

			j, pic := s.Job()
			developed, err := j.Develop(t.Context(), pic)
			require.NoError(t, err)
			pl, err := j.Document.Placement()
			require.NoError(t, err)
			raster, err := developed.Raster(t.Context(), pl)
			require.NoError(t, err)
			recipe, err := v.Of(j.Document.Recipe())
			require.NoError(t, err)
			src, recipe, err := raster.Burning(recipe)
			require.NoError(t, err)
			want, err := proof.Exact(t.Context(), recipe, src, image.Rect(0, 0, raster.Dots.W, raster.Dots.H), other.Frame.W, other.Frame.H, nil)
			require.NoError(t, err)
			require.Equal(t, want.Pix, other.Image.Pix)
		})
	}
}

func TestWhatCannotBeComparedWithSaysWhy(t *testing.T) {
	pictures := make(chan session.Picture, 64)
	s := open(t, func(p session.Picture) { pictures <- p })
	refused := errors.New("no such stack")
	s.Compare(&session.Other{Change: func(*job.Document) error { return refused }})
	s.Show(ownFrame, otherFrame)
	own, other := next(t, pictures), next(t, pictures)
	require.NoError(t, own.Err)
	require.ErrorIs(t, other.Err, refused)
	s.Compare(nil)
	s.Show(ownFrame)
	own, other = lastOf(t, s, pictures)
	require.NoError(t, own.Err)
	require.Nil(t, other.Image)
}
