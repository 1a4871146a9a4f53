package job_test

import (
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/layout"
)

// aslant is a picture of a white sheet with a black left half, seen from the side.
func aslant(t *testing.T) (*picture.Picture, [4]layout.PicturePoint) {
	t.Helper()
	corners := [4]layout.PicturePoint{{X: 40, Y: 30}, {X: 340, Y: 60}, {X: 330, Y: 250}, {X: 50, Y: 280}}
	toSheet, err := layout.FromCorners(corners, 1, 1)
	require.NoError(t, err)
	inverse, err := toSheet.Inverse()
	require.NoError(t, err)
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for y := range 300 {
		for x := range 400 {
			p := inverse.Apply(layout.PicturePoint{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			switch {
			case p.X < 0 || p.X > 1 || p.Y < 0 || p.Y > 1:
				img.Set(x, y, color.Gray{120})
			case p.X > 0.5:
				img.Set(x, y, color.White)
			}
		}
	}
	pic, err := picture.New(img)
	require.NoError(t, err)
	return pic, corners
}

func TestFourCornersMakeADrawingSquare(t *testing.T) {
	pic, corners := aslant(t)
	p := job.Picture{Corners: &corners}
	w, h, err := p.Size(pic)
	require.NoError(t, err)
	light, err := p.Light(t.Context(), pic)
	require.NoError(t, err)
	require.Equal(t, [2]int{w, h}, [2]int{light.W, light.H})
	for _, y := range []int{5, h / 2, h - 6} {
		require.Less(t, light.Row(y)[5], uint16(2000))
		require.Less(t, light.Row(y)[w/2-6], uint16(2000))
		require.Greater(t, light.Row(y)[w/2+6], uint16(63000))
		require.Greater(t, light.Row(y)[w-6], uint16(63000))
	}
	colours, err := p.Colours(t.Context(), pic)
	require.NoError(t, err)
	require.Equal(t, [2]int{w, h}, [2]int{colours.W, colours.H})
	require.InDelta(t, light.Row(h / 2)[w-6], colours.Row(h / 2)[3*(w-6)+1], 3)
}

func TestStraighteningIsPartOfTheFrame(t *testing.T) {
	pic, corners := aslant(t)
	d := plain(t, 100, 60, 0.1)
	d.Picture.StraightenDegrees = 10
	d.Picture.Crop = layout.Crop{W: 400, H: 240}
	d, err := d.Refit(pic)
	require.NoError(t, err)
	require.NoError(t, d.CheckCrop(pic))
	w, h, err := d.Picture.Size(pic)
	require.NoError(t, err)
	require.Less(t, w, 400)
	require.LessOrEqual(t, d.Picture.Crop.X+d.Picture.Crop.W, float64(w)+1e-9)
	light, err := d.Picture.Light(t.Context(), pic)
	require.NoError(t, err)
	require.Equal(t, [2]int{w, h}, [2]int{light.W, light.H})

	d.Picture.Corners = &corners
	require.ErrorContains(t, d.Validate(), "straighten by one of them")
	d.Picture.StraightenDegrees = 0
	d.Picture.Corners = &[4]layout.PicturePoint{{X: 0, Y: 0}, {X: 50, Y: 50}, {X: 50, Y: 0}, {X: 0, Y: 50}}
	require.ErrorContains(t, d.Validate(), "picture: corners: the sides between the corners cross")
	d.Picture.Corners, d.Picture.StraightenDegrees = nil, 50
	require.ErrorContains(t, d.Validate(), "straighten_degrees")
}

func TestACloneKeepsItsCorners(t *testing.T) {
	_, corners := aslant(t)
	d := plain(t, 100, 60, 0.1)
	d.Picture.Corners = &corners
	c := d.Clone()
	d.Picture.Corners[0].X = 99
	require.Equal(t, 40.0, c.Picture.Corners[0].X)
}
