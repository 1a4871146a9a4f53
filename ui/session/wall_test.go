package session_test

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/scene"
	"undercoat/layout"
	"undercoat/ui/session"
)

// wallPhoto is an opened photograph.
func wallPhoto(t *testing.T, w, h int) *session.Photo {
	t.Helper()
	path := filepath.Join(t.TempDir(), "wall.jpg")
	require.NoError(t, os.WriteFile(path, photo(t, w, h), 0o600))
	p, err := session.OpenPhoto(t.Context(), path)
	require.NoError(t, err)
	return p
}

func pngSize(t *testing.T, path string) (w, h int) {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	c, err := png.DecodeConfig(f)
	require.NoError(t, err)
	return c.Width, c.Height
}

// A mark is in pixels of the whole photograph, whatever the size of the view.
func TestTheMarkFollowsTheSizeOfTheView(t *testing.T) {
	s := open(t, nil)
	corners := [4]layout.PicturePoint{{X: 100, Y: 100}, {X: 3000, Y: 100}, {X: 3000, Y: 2000}, {X: 100, Y: 2000}}
	wall := session.Wall{Photo: wallPhoto(t, 2*job.WallLong, job.WallLong), Mark: scene.Mark{
		A: layout.PicturePoint{X: 90, Y: 70}, B: layout.PicturePoint{X: 810, Y: 70}, LengthMM: 900,
		Corners: &corners, CornersMM: layout.Size{W: 700, H: 500}, Centre: layout.PicturePoint{X: 450, Y: 350},
	}}
	v, err := s.OnSheet(t.Context(), wall)
	require.NoError(t, err)
	require.Equal(t, job.WallLong, v.Photo.Rect.Dx())
	require.InDelta(t, 45, v.Mark.A.X, 1e-9)
	require.InDelta(t, 225, v.Mark.Centre.X, 1e-9)
	require.InDelta(t, 1500, v.Mark.Corners[1].X, 1e-9)
	require.Equal(t, 100.0, corners[0].X, "what was given stays as it is")
	require.Equal(t, wall.Mark.CornersMM, v.Mark.CornersMM)
}

func TestWallsAreWrittenAtTheirSizes(t *testing.T) {
	s := open(t, nil)
	dir := t.TempDir()
	write := func(name string, wall session.Wall, stacks ...coat.Stack) (w, h int) {
		path := filepath.Join(dir, name)
		require.NoError(t, s.WriteWall(t.Context(), path, wall, stacks, func(float64) {}))
		return pngSize(t, path)
	}
	room := session.Wall{Room: scene.Studio, Paint: job.UsualWall, Watermark: "draft"}
	w, h := write("room.png", room)
	require.Equal(t, [2]int{1600, 1200}, [2]int{w, h})
	own := session.Wall{Photo: wallPhoto(t, 900, 700), Mark: scene.Mark{
		A: layout.PicturePoint{X: 0, Y: 600}, B: layout.PicturePoint{X: 900, Y: 600}, LengthMM: 2000, Centre: layout.PicturePoint{X: 450, Y: 300},
	}}
	w, h = write("own.png", own)
	require.Equal(t, [2]int{900, 700}, [2]int{w, h})
	stack := s.Document().Stack
	w, _ = write("sets.png", room, stack, stack)
	require.Greater(t, w, 2*800)

	own.Mark = scene.Mark{}
	err := s.WriteWall(t.Context(), filepath.Join(dir, "no.png"), own, nil, func(float64) {})
	require.ErrorContains(t, err, "no scale")
	require.NoFileExists(t, filepath.Join(dir, "no.png"))
}
