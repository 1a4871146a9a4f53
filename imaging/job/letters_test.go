package job_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

func line(text string, burn bool) lettering.Line {
	return lettering.Line{Text: text, Font: assets.DefaultFont, CapHeight: 15, Burn: burn, Margin: 1}
}

// even is a picture of one grey.
func even(t *testing.T, grey uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 80, 60))
	for i := range img.Pix {
		img.Pix[i] = grey
	}
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, img))
	return data.Bytes()
}

func TestLetteringAloneIsACompleteJob(t *testing.T) {
	d := plain(t, 80, 60, 0.1)
	d.Lettering = []lettering.Line{line("Tea", true)}
	j := &job.Job{Document: d}
	var file bytes.Buffer
	require.NoError(t, j.Write(&file))
	back, err := job.Parse(file.Bytes())
	require.NoError(t, err)
	require.Equal(t, d, back.Document)
	dir, h := prepared(t, back)
	require.Equal(t, [2]int{800, 600}, h.Note.RasterDots)

	placed, err := d.Letters(nil)
	require.NoError(t, err)
	pl, err := d.Placement()
	require.NoError(t, err)
	burn, _, err := lettering.Rasterise(t.Context(), placed, pl)
	require.NoError(t, err)
	img := raster(t, dir)
	for y := range 600 {
		for x := range 800 {
			require.Equal(t, burn.At(x, y), img.GrayAt(x, y) == color.Gray{}, "dot %d, %d", x, y)
		}
	}
}

func TestAJobWithNothingToBurnIsRefused(t *testing.T) {
	d := plain(t, 80, 60, 0.1)
	for _, lines := range [][]lettering.Line{nil, {line("kept", false)}} {
		d.Lettering = lines
		_, err := job.Prepare(t.Context(), &job.Job{Document: d}, job.Request{Dir: t.TempDir()})
		require.ErrorContains(t, err, "nothing to burn")
		_, err = job.Check(t.Context(), &job.Job{Document: d})
		require.ErrorContains(t, err, "nothing to burn")
	}
}

func TestLetteringIsNeverScreened(t *testing.T) {
	for _, burns := range []bool{true, false} {
		d := byLight(plain(t, 80, 60, 0.1))
		d.Lettering = []lettering.Line{line("Tea", burns)}
		j := withPicture(t, d, "even.png", even(t, 128))
		dir, _ := prepared(t, j, job.RasterOutput)
		img := raster(t, dir)
		placed, err := d.Letters(nil)
		require.NoError(t, err)
		pl, err := d.Placement()
		require.NoError(t, err)
		burn, keep, err := lettering.Rasterise(t.Context(), placed, pl)
		require.NoError(t, err)
		others := 0
		for y := range 600 {
			for x := range 800 {
				black := img.GrayAt(x, y).Y == 0
				switch {
				case burn.At(x, y):
					require.True(t, black)
				case keep.At(x, y):
					require.False(t, black)
				case black:
					others++
				}
			}
		}
		require.Greater(t, others, 50_000, "the picture is screened round the letters")
	}
}

func TestThinStrokesAndFarLettersAreCautionedOf(t *testing.T) {
	d := plain(t, 80, 60, 0.1)
	thin := line("Tea", true)
	thin.CapHeight, thin.Font = 0.8, "script"
	thin.At = layout.Point{X: 40}
	d.Lettering = []lettering.Line{thin, line("Tea", true)}
	note, err := job.Check(t.Context(), &job.Job{Document: d})
	require.NoError(t, err)
	all := ""
	for _, c := range note.Cautions {
		all += c + "\n"
	}
	require.Contains(t, all, "is the least here")
	require.Contains(t, all, "past the panel's right")
}

func TestAFontOfTheMakersOwnTravelsWithTheJob(t *testing.T) {
	data, ok := assets.Font("brush")
	require.True(t, ok)
	j := &job.Job{Document: plain(t, 80, 60, 0.1)}
	j, err := j.WithFont("my hand", data)
	require.NoError(t, err)
	l := line("Tea", true)
	l.Font = "my hand"
	j.Document.Lettering = []lettering.Line{l}
	var file bytes.Buffer
	require.NoError(t, j.Write(&file))
	back, err := job.Parse(file.Bytes())
	require.NoError(t, err)
	require.Equal(t, j.Fonts, back.Fonts)
	_, err = back.Document.Letters(back.Fonts)
	require.NoError(t, err)
	_, err = back.Document.Letters(nil)
	require.ErrorContains(t, err, "my hand")

	_, err = j.WithFont("broken", []byte("no font"))
	require.Error(t, err)
	_, err = j.WithFont("../up", data)
	require.ErrorContains(t, err, "plain name")
	broken := bytes.Replace(file.Bytes(), data[100:120], make([]byte, 20), 1)
	_, err = job.Parse(broken)
	require.Error(t, err)
}
