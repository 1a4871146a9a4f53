package job_test

import (
	"bytes"
	"encoding/json"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
)

// pixels reads a raster of a hand-off with the standard library's decoder.
func pixels(t *testing.T, path string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	grey, ok := img.(*image.Gray)
	require.True(t, ok, "%T", img)
	return grey
}

// together lays the sections of a note side by side, as their rows and columns say.
func together(t *testing.T, dir string, n export.Note, name func(export.NoteSection) string) *image.Gray {
	t.Helper()
	out := image.NewGray(image.Rect(0, 0, n.RasterDots[0], n.RasterDots[1]))
	covered := make([]int, len(out.Pix))
	for _, s := range n.Sections {
		part := pixels(t, filepath.Join(dir, name(s)))
		require.Equal(t, image.Pt(s.Cols[1]-s.Cols[0], s.Rows[1]-s.Rows[0]), part.Rect.Size())
		require.Equal(t, [2]int{part.Rect.Dx(), part.Rect.Dy()}, s.RasterDots)
		for y := range part.Rect.Dy() {
			for x := range part.Rect.Dx() {
				at := out.PixOffset(s.Cols[0]+x, s.Rows[0]+y)
				out.Pix[at] = part.GrayAt(x, y).Y
				covered[at]++
			}
		}
	}
	for _, times := range covered {
		if times != 1 {
			t.Fatalf("a dot lies in %d sections", times)
		}
	}
	return out
}

// long is a job that the bed is too short for, upright or turned.
func long(t *testing.T, w, h layout.MM) *job.Job {
	t.Helper()
	d := plain(t, w, h, 0.25)
	d.Machine.Bed = layout.Bed{W: 90, H: 70}
	d.Machine.PowerPerPixel = true
	return withPicture(t, d, "dunes.jpg", golden(t, "dunes.jpg"))
}

func TestSectionsPutTogetherAreTheRaster(t *testing.T) {
	for _, c := range []struct {
		name   string
		w, h   layout.MM
		match  job.Match
		steps  int
		turned bool
	}{
		{"rows", 75, 190, job.MatchLightness, 0, false},
		{"columns, turned", 191, 73, job.MatchLightness, 0, true},
		{"shares of power", 191, 73, job.MatchPower, 0, true},
		{"steps", 75, 190, job.MatchSteps, 3, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := long(t, c.w, c.h)
			j.Document.Match = c.match
			if c.steps > 0 { // light enough to lay every coat bare
				j.Document.Setting.PowerPercent, j.Document.Setting.Speed = 100, j.Document.Setting.Speed/4
				j.Document.Machine.BeamAlong, j.Document.Machine.BeamAcross = 0.3, 0.3
			}
			dir, h := prepared(t, j, job.RasterOutput, job.PlacementOutput)
			n := h.Note
			require.False(t, n.Fits)
			require.Equal(t, layout.InSections, n.Fit.How)
			require.Equal(t, c.turned, n.Fit.Turned)
			require.GreaterOrEqual(t, len(n.Sections), 3)
			require.Len(t, n.Seams, len(n.Sections)-1)
			if c.steps == 0 {
				whole := pixels(t, filepath.Join(dir, job.RasterFile))
				require.Equal(t, whole.Pix, together(t, dir, n, func(s export.NoteSection) string { return s.File }).Pix)
			}
			for i := range c.steps {
				whole := pixels(t, filepath.Join(dir, job.StepFile(i)))
				require.Equal(t, whole.Pix, together(t, dir, n, func(s export.NoteSection) string { return s.Names()[i] }).Pix)
			}
			sectionsMeet(t, n)
			data, err := os.ReadFile(filepath.Join(dir, job.PlacementJSONFile))
			require.NoError(t, err)
			var read export.Note
			require.NoError(t, json.Unmarshal(data, &read))
			require.Equal(t, n.Sections, read.Sections)
		})
	}
}

// sectionsMeet checks that the sections' corners lie on the whole raster's and on one
// another's, that marks lie level with centres, and that each section fits the bed.
func sectionsMeet(t *testing.T, n export.Note) {
	t.Helper()
	near := func(want, got layout.Point) {
		require.InDelta(t, float64(want.X), float64(got.X), 1e-5)
		require.InDelta(t, float64(want.Y), float64(got.Y), 1e-5)
	}
	first, last := n.Sections[0], n.Sections[len(n.Sections)-1]
	near(n.Corners[0], first.Corners[0])
	near(n.Corners[2], last.Corners[2])
	for i, s := range n.Sections {
		lines, across := s.Size.W, s.Size.H
		if n.Fit.Turned {
			lines, across = across, lines
		}
		require.LessOrEqual(t, float64(lines+2*n.RunUp), float64(n.Bed.W)+1e-6)
		require.LessOrEqual(t, float64(across), float64(n.Bed.H)+1e-6)
		for _, m := range s.Marks {
			if n.Fit.Turned {
				require.Equal(t, s.Centre.X, m.At.X)
			} else {
				require.Equal(t, s.Centre.Y, m.At.Y)
			}
		}
		if i == 0 {
			require.Nil(t, s.Move)
			continue
		}
		before := n.Sections[i-1]
		if n.Fit.Turned {
			near(before.Corners[1], s.Corners[0])
			require.InDelta(t, float64(s.Centre.X-before.Centre.X), float64(s.Move.By), 1e-5)
		} else {
			near(before.Corners[3], s.Corners[0])
			require.InDelta(t, float64(before.Centre.Y-s.Centre.Y), float64(s.Move.By), 1e-5)
		}
	}
}

// banded is a picture that is bright but for black bands, which stay blank.
func banded(t *testing.T, w, h int, bands ...[2]int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = 200
	}
	for _, b := range bands {
		clear(img.Pix[b[0]*img.Stride : b[1]*img.Stride])
	}
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, img))
	return out.Bytes()
}

// A cut goes into the blank band near an even split, and there no misplacement shows.
func TestSectionsAreCutWhereNothingBurns(t *testing.T) {
	// 120 mm in two parts of at most 70 mm: the even cut is at 60 mm, the band at 52..56.
	d := byLight(plain(t, 75, 120, 0.25))
	d.Machine.Bed = layout.Bed{W: 90, H: 70}
	picture := banded(t, 150, 240, [2]int{104, 112})
	_, h := prepared(t, withPicture(t, d, "bands.png", picture), job.RasterOutput)
	require.Len(t, h.Note.Sections, 2)
	cut := h.Note.Sections[1].Rows[0]
	require.InDelta(t, 54/0.25, float64(cut), 2/0.25-1, "in the band, which is 8 rows of the picture high")
	require.Zero(t, h.Note.Seams[0].Burned)
	for _, l := range h.Note.Seams[0].Looks {
		require.Less(t, l.Apart, 0.05, "%v", l)
		require.Less(t, l.Over, 0.05, "%v", l)
		require.Contains(t, l.Words, "does not show")
	}

	_, h = prepared(t, withPicture(t, d, "plain.png", banded(t, 150, 240)), job.RasterOutput)
	looks := h.Note.Seams[0].Looks
	require.Greater(t, h.Note.Seams[0].Burned, 0.3)
	for i, l := range looks {
		require.Greater(t, l.Apart, 3.0, "a gap in an even field shows")
		require.Positive(t, l.Over)
		if i > 0 {
			require.Greater(t, l.Apart, looks[i-1].Apart, "the farther apart the plainer")
		}
	}
}

func TestSectionsOnRequest(t *testing.T) {
	j := uneven(t)
	ask := func(length layout.MM) (*job.Handoff, error) {
		return job.Prepare(t.Context(), j, job.Request{Dir: filepath.Join(t.TempDir(), "out"), Only: []job.Output{job.RasterOutput}, Sections: length})
	}
	whole, err := ask(0)
	require.NoError(t, err)
	require.Empty(t, whole.Note.Sections)
	size := whole.Note.Size
	parts, err := ask(min(size.W, size.H) * 0.6)
	require.NoError(t, err)
	require.NotEmpty(t, parts.Note.Sections)
	require.True(t, parts.Note.Fits, "it would fit in one go")
	require.Empty(t, parts.Note.WhyNot)
	for _, s := range parts.Note.Sections {
		require.LessOrEqual(t, float64(min(s.Size.W, s.Size.H)), 0.6*float64(min(size.W, size.H))+1e-6)
	}
	_, err = ask(9000)
	require.ErrorContains(t, err, "the panel fits as it is; choose a shorter length, or none")
	_, err = ask(-5)
	require.ErrorContains(t, err, "section length -5 mm is not possible")
	_, err = ask(0.2)
	require.ErrorContains(t, err, "sections")
}

// A bed that is too small both ways is told of with what would help, and the raster is
// made all the same.
func TestBedTooSmallBothWays(t *testing.T) {
	d := plain(t, 90, 80, 0.25)
	d.Machine.Bed = layout.Bed{W: 60, H: 60}
	j := withPicture(t, d, "dunes.jpg", golden(t, "dunes.jpg"))
	_, h := prepared(t, j, job.RasterOutput)
	require.False(t, h.Note.Fits)
	require.Equal(t, layout.NotAtAll, h.Note.Fit.How)
	require.NotNil(t, h.Note.Fit.Instead)
	require.Contains(t, h.Note.WhyNot, "a bed of 60 x 60 mm holds no line of 90 or 80 mm either way")
	require.Contains(t, h.Note.WhyNot, "would still fit")
	require.Contains(t, h.Cautions, h.Note.WhyNot)
	d.Border = *h.Note.Fit.Instead
	plan, err := d.Plan()
	require.NoError(t, err)
	require.NotEqual(t, layout.NotAtAll, plan.Fit.How, "the border that was named does fit")
}

// Turned, the lines run along the raster's columns: the time is that of the picture lying
// on its side.
func TestBurnTimeOfATurnedPanel(t *testing.T) {
	d := plain(t, 100, 60, 0.25)
	d.Machine.Bed = layout.Bed{W: 80, H: 110}
	d.Machine.SkipsBlank = false
	_, turned := prepared(t, withPicture(t, d, "dunes.jpg", golden(t, "dunes.jpg")), job.RasterOutput)
	require.Equal(t, layout.Turned, turned.Note.Fit.How)
	require.True(t, turned.Note.Fits)
	require.Equal(t, layout.Size{W: 60 + 2*d.Machine.RunUp, H: 100}, turned.Note.Travel)
	d.Panel.Size = layout.Size{W: 60, H: 100}
	upright, err := d.Plan()
	require.NoError(t, err)
	require.InDelta(t, d.BurnTime(upright.Placement.Grid, nil).Seconds(), turned.Note.BurnTimeS, 1e-6)
}
