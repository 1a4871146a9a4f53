package session_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// photo is a small picture with light falling off to the right.
func photo(t testing.TB, w, h int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetGray(x, y, color.Gray{Y: uint8(255 * x / w)})
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, nil))
	return b.Bytes()
}

// open is a session on a small job: 60 x 80 mm, 0.2 mm pitch.
func open(t testing.TB, render func(session.Picture)) *session.Session {
	t.Helper()
	stack, err := job.FindStack("")
	require.NoError(t, err)
	machine, err := job.FindMachine("")
	require.NoError(t, err)
	d := job.Blank(stack, machine)
	d.Panel.Size = layout.Size{W: 60, H: 80}
	d.Setting.Pitch = 0.2
	j, pic, err := job.New(t.Context(), d, "photo.jpeg", photo(t, 300, 200))
	require.NoError(t, err)
	s := session.New(j, pic, session.Options{Render: render})
	t.Cleanup(s.Close)
	return s
}

func setBorder(s *session.Session, mm layout.MM, merge string) error {
	return s.Edit("border", merge, func(d *job.Document) error {
		d.Border = layout.Even(mm)
		return nil
	})
}

func TestEditsCanBeUndoneAndDoneAgain(t *testing.T) {
	s := open(t, nil)
	before := s.Document()
	require.False(t, s.Dirty())
	require.NoError(t, setBorder(s, 10, ""))
	require.Equal(t, layout.Even(10), s.Document().Border)
	require.True(t, s.Dirty())
	undo, redo := s.StepNames()
	require.Equal(t, []string{"border", ""}, []string{undo, redo})

	require.True(t, s.Undo())
	require.Equal(t, before, s.Document())
	require.False(t, s.Undo())
	require.True(t, s.Redo())
	require.Equal(t, layout.Even(10), s.Document().Border)
	require.False(t, s.Redo())
}

func TestADragIsOneStep(t *testing.T) {
	s := open(t, nil)
	before := s.Document()
	for mm := layout.MM(7); mm <= 12; mm++ {
		require.NoError(t, setBorder(s, mm, "border drag"))
	}
	s.EndDrag()
	require.NoError(t, setBorder(s, 13, "border drag"))
	require.True(t, s.Undo())
	require.Equal(t, layout.Even(12), s.Document().Border, "a second drag is a step of its own")
	require.True(t, s.Undo())
	require.Equal(t, before, s.Document())
}

func TestRefusedEditsChangeNothing(t *testing.T) {
	s := open(t, nil)
	before := s.Document()
	heard := 0
	defer s.Subscribe(func() { heard++ })()
	require.ErrorContains(t, setBorder(s, 40, ""), "border")
	require.ErrorContains(t, s.Edit("power", "", func(d *job.Document) error {
		d.Setting.PowerPercent = 130
		return nil
	}), "power")
	require.NoError(t, s.Edit("nothing", "", func(*job.Document) error { return nil }))
	require.Equal(t, before, s.Document())
	require.Zero(t, heard)
	undo, _ := s.StepNames()
	require.Empty(t, undo)
}

func TestDocumentsHandedOutShareNothing(t *testing.T) {
	s := open(t, nil)
	d := s.Document()
	d.Stack.Coats[0].ThicknessUM = 99
	require.NotEqual(t, d.Stack.Coats[0].ThicknessUM, s.Document().Stack.Coats[0].ThicknessUM)
	require.Error(t, s.Edit("coat", "", func(d *job.Document) error {
		d.Stack.Coats[0].ThicknessUM = -1
		return nil
	}))
	require.Positive(t, s.Document().Stack.Coats[0].ThicknessUM)
}

func TestAChangeMayAskTheSession(t *testing.T) {
	s := open(t, nil)
	require.NoError(t, s.Edit("crop", "", func(d *job.Document) error {
		w, h := s.PictureSize()
		d.Picture.Crop = d.Picture.Crop.Zoomed(2, float64(w)/2, float64(h)/2, w, h)
		return nil
	}))
	require.ErrorContains(t, s.Check(func(d *job.Document) error {
		d.Setting.Passes = 300
		return nil
	}), "passes")
	require.Equal(t, 1, s.Document().Setting.Passes)
}

func TestEditsFromManySidesAllCount(t *testing.T) {
	s := open(t, nil)
	var sides sync.WaitGroup
	for range 8 {
		sides.Go(func() {
			assert.NoError(t, s.Edit("power", "", func(d *job.Document) error {
				d.Setting.PowerPercent++
				return nil
			}))
		})
	}
	sides.Wait()
	require.Equal(t, 68.0, s.Document().Setting.PowerPercent)
}

func TestCropFollowsThePanel(t *testing.T) {
	s := open(t, nil)
	require.NoError(t, s.Edit("panel", "", func(d *job.Document) error {
		d.Panel.Size = layout.Size{W: 90, H: 50}
		return nil
	}))
	d := s.Document()
	aspect, err := d.Aspect()
	require.NoError(t, err)
	w, h := s.PictureSize()
	require.NoError(t, d.Picture.Crop.Validate(w, h, aspect))
}

func TestSubscribersHearUntilTheyCancel(t *testing.T) {
	s := open(t, nil)
	heard := 0
	cancel := s.Subscribe(func() { heard++ })
	require.NoError(t, setBorder(s, 8, ""))
	require.True(t, s.Undo())
	require.Equal(t, 2, heard)
	cancel()
	require.NoError(t, setBorder(s, 9, ""))
	require.Equal(t, 2, heard)
}

func TestPicturesAndJobsAreOpenedAndSaved(t *testing.T) {
	s := open(t, nil)
	require.NoError(t, s.OpenPicture(t.Context(), "other.jpeg", photo(t, 100, 400)))
	require.Equal(t, "other.jpeg", s.Document().Picture.Name)
	require.ErrorContains(t, s.OpenPicture(t.Context(), "letter.png", []byte("dear")), "letter.png")
	require.Equal(t, "other.jpeg", s.Document().Picture.Name)

	path := filepath.Join(t.TempDir(), "a.undercoat")
	require.NoError(t, s.Save(path))
	require.False(t, s.Dirty())
	require.Equal(t, path, s.Path())
	require.True(t, s.Undo())
	require.Equal(t, "photo.jpeg", s.Document().Picture.Name)
	require.True(t, s.Dirty())

	require.NoError(t, s.OpenJob(t.Context(), path))
	require.Equal(t, "other.jpeg", s.Document().Picture.Name)
	undo, redo := s.StepNames()
	require.Empty(t, undo+redo)
}

func TestHandOffAndItsCancelling(t *testing.T) {
	s := open(t, nil)
	dir := filepath.Join(t.TempDir(), "out")
	ctx, cancel := context.WithCancel(t.Context())
	_, err := s.HandOff(ctx, job.Request{Dir: dir, Progress: func(float64) { cancel() }})
	require.ErrorIs(t, err, context.Canceled)
	require.NoDirExists(t, dir)

	var last float64
	h, err := s.HandOff(t.Context(), job.Request{Dir: dir, Progress: func(f float64) { last = f }})
	require.NoError(t, err)
	require.Equal(t, 1.0, last)
	for _, f := range h.Files {
		require.FileExists(t, f)
	}
}
