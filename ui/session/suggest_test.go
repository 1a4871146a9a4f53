package session_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

func TestSuggestedCropsSuitThePictureArea(t *testing.T) {
	s := open(t, nil)
	crops, err := s.SuggestCrops(t.Context())
	require.NoError(t, err)
	require.NotEmpty(t, crops)
	aspect, err := s.Document().Aspect()
	require.NoError(t, err)
	w, h := s.PictureSize()
	for _, c := range crops {
		require.NoError(t, c.Crop.Validate(w, h, aspect))
		require.NotEmpty(t, c.Why())
		size := c.View.Bounds().Size()
		require.InDelta(t, aspect, float64(size.X)/float64(size.Y), 0.03)
		require.LessOrEqual(t, max(size.X, size.Y), 120)
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = s.SuggestCrops(ended)
	require.ErrorIs(t, err, context.Canceled)
}

func TestSuggestedPointsStretchThePicture(t *testing.T) {
	s := open(t, nil)
	edit(t, s, func(d *job.Document) { d.Picture.Crop = d.Picture.Crop.Zoomed(3, 150, 100, 300, 200) })
	black, white, err := s.SuggestPoints(t.Context())
	require.NoError(t, err)
	// The picture's light rises from left to right; the crop is of its middle.
	require.Greater(t, black, 10.0)
	require.Less(t, white, 90.0)
	require.Greater(t, white, black+5)
}

func TestTheTurnedPictureIsWholeAndNotStraightened(t *testing.T) {
	s := open(t, nil)
	edit(t, s, func(d *job.Document) { d.Picture.QuarterTurns, d.Picture.StraightenDegrees = 1, 10 })
	view, w, h, err := s.TurnedPicture(t.Context(), 100)
	require.NoError(t, err)
	require.Equal(t, []int{200, 300}, []int{w, h})
	require.Equal(t, []int{67, 100}, []int{view.Bounds().Dx(), view.Bounds().Dy()})
	top, foot := view.RGBAAt(33, 5), view.RGBAAt(33, 95)
	require.Less(t, top.R, foot.R, "what was at the left lies at the top")
}

func TestNothingIsSuggestedWithoutAPicture(t *testing.T) {
	s := open(t, nil)
	s.RemovePicture()
	_, err := s.SuggestCrops(t.Context())
	require.ErrorContains(t, err, "open one first")
	_, _, err = s.SuggestPoints(t.Context())
	require.ErrorContains(t, err, "open one first")
	_, _, _, err = s.TurnedPicture(t.Context(), 100)
	require.ErrorContains(t, err, "open one first")
}

func TestAFontOfTheMakersOwnIsOneStep(t *testing.T) {
	s := open(t, nil)
	line := lettering.Line{Text: "Text", Font: assets.DefaultFont, CapHeight: 10, At: layout.Point{Y: -20}}
	edit(t, s, func(d *job.Document) { d.Lettering = []lettering.Line{line} })
	before := s.Document()
	data, ok := assets.Font(assets.DefaultFont)
	require.True(t, ok)
	require.NoError(t, s.AddFont("own.ttf", data, func(d *job.Document) error {
		d.Lettering[0].Font = "own.ttf"
		return nil
	}))
	require.Equal(t, "own.ttf", s.Document().Lettering[0].Font)
	require.NoError(t, s.CheckLetters(s.Document()))
	require.True(t, s.Undo())
	require.Equal(t, before, s.Document())
	require.True(t, s.Redo())
	require.Len(t, s.Document().Fonts, 1)

	after := s.Document()
	require.Error(t, s.AddFont("broken.ttf", []byte("no font"), nil))
	require.Equal(t, after, s.Document())
	foreign := s.Document()
	foreign.Lettering[0].Text = "\u65e5\u672c"
	require.Error(t, s.CheckLetters(foreign), "the font lacks these letters")
}
