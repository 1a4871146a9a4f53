package session_test

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/ui/session"
)

// next waits for the next picture; the time is only a bound on a broken run.
func next(t *testing.T, pictures <-chan session.Picture) session.Picture {
	t.Helper()
	select {
	case p := <-pictures:
		return p
	case <-time.After(time.Minute):
		t.Fatal("no picture came")
		return session.Picture{}
	}
}

func TestAProofIsQuickFirstAndExactThen(t *testing.T) {
	pictures := make(chan session.Picture, 16)
	s := open(t, func(p session.Picture) { pictures <- p })
	s.Show(session.Frame{View: session.ProofView, W: 120, H: 160})
	quick := next(t, pictures)
	require.NoError(t, quick.Err)
	require.False(t, quick.Exact)
	require.True(t, quick.Working)
	exact := next(t, pictures)
	require.NoError(t, exact.Err)
	require.True(t, exact.Exact)
	require.False(t, exact.Working)
	require.Equal(t, quick.Generation, exact.Generation)
	require.Equal(t, exact.Frame.W, exact.Image.Bounds().Dx())
	require.Equal(t, exact.Frame.H, exact.Image.Bounds().Dy())
}

func TestThePictureViewIsDoneAtOnce(t *testing.T) {
	pictures := make(chan session.Picture, 16)
	s := open(t, func(p session.Picture) { pictures <- p })
	s.Show(session.Frame{View: session.PictureView, W: 60, H: 80})
	p := next(t, pictures)
	require.NoError(t, p.Err)
	require.False(t, p.Working)
	// The light of the picture rises from left to right.
	left, right := p.Image.RGBAAt(2, 40), p.Image.RGBAAt(p.Image.Bounds().Dx()-3, 40)
	require.Less(t, left.R, right.R)
}

func TestDotsOfAPartAreSnappedToWholeDots(t *testing.T) {
	pictures := make(chan session.Picture, 16)
	s := open(t, func(p session.Picture) { pictures <- p })
	s.Show(session.Frame{View: session.DotsView, Part: session.Part{X: 0.501, Y: 0.501, W: 0.05, H: 0.05}, W: 100, H: 100})
	var p session.Picture
	for p = next(t, pictures); p.Working; p = next(t, pictures) {
	}
	require.NoError(t, p.Err)
	require.True(t, p.Exact)
	pl, err := s.Document().Placement()
	require.NoError(t, err)
	x := p.Frame.Part.X * float64(pl.Grid.Cols)
	require.InDelta(t, x, float64(int(x+0.5)), 1e-9)
}

func setPower(s *session.Session, percent float64) error {
	return s.Edit("power", "power drag", func(d *job.Document) error {
		d.Setting.PowerPercent = percent
		return nil
	})
}

func TestTheNewestStateWins(t *testing.T) {
	frame := session.Frame{View: session.ProofView, W: 120, H: 160}
	// What comes out when nothing is dragged.
	fresh := make(chan session.Picture, 16)
	still := open(t, func(p session.Picture) { fresh <- p })
	require.NoError(t, setPower(still, 60))
	still.Show(frame)
	var want session.Picture
	for want = next(t, fresh); !want.Exact; want = next(t, fresh) {
	}

	pictures := make(chan session.Picture, 1024)
	s := open(t, func(p session.Picture) { pictures <- p })
	s.Show(frame)
	for power := 20.0; power <= 60; power++ {
		require.NoError(t, setPower(s, power))
	}
	s.EndDrag()
	var last session.Picture
	for !last.Exact || !bytes.Equal(want.Image.Pix, last.Image.Pix) {
		last = next(t, pictures)
		require.NoError(t, last.Err)
	}
	require.Empty(t, pictures, "nothing follows the exact picture of the newest state")
}
