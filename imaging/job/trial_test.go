package job_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// spotted is an even picture with stripes in one place.
func spotted(t *testing.T, w, h int, spot image.Rectangle) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := uint8(90)
			if image.Pt(x, y).In(spot) {
				v = uint8(255 * (x / 3 % 2))
			}
			img.SetGray(x, y, color.Gray{Y: v})
		}
	}
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, img))
	return out.Bytes()
}

func trialOf(t *testing.T, j *job.Job, r job.TrialRequest) (string, *job.Handoff) {
	t.Helper()
	r.Dir = filepath.Join(t.TempDir(), "trial")
	h, err := job.Trial(t.Context(), j, r)
	require.NoError(t, err)
	return r.Dir, h
}

func TestTrialFindsTheDetail(t *testing.T) {
	// 90 x 60 mm, 4 pixels a millimetre: the stripes lie 60..80 mm across, 35..50 mm down.
	d := plain(t, 90, 60, 0.15)
	j := withPicture(t, d, "spot.png", spotted(t, 360, 240, image.Rect(240, 140, 320, 200)))
	_, h := trialOf(t, j, job.TrialRequest{Size: layout.Size{W: 20, H: 15}})
	require.InDelta(t, 70-45, float64(h.Note.Trial.Centre.X), 2)
	require.InDelta(t, 30-42.5, float64(h.Note.Trial.Centre.Y), 2)
	require.Contains(t, h.Note.Trial.Why, "% of the picture's detail")
	require.InDelta(t, 20, float64(h.Note.Trial.Size.W), 0.15)
	require.InDelta(t, 15, float64(h.Note.Trial.Size.H), 0.15)

	even := withPicture(t, d, "even.png", spotted(t, 360, 240, image.Rectangle{}))
	_, h = trialOf(t, even, job.TrialRequest{Size: layout.Size{W: 20, H: 15}})
	require.InDelta(t, 0, float64(h.Note.Trial.Centre.X), 0.5, "the middle, where there is no detail")
	require.InDelta(t, 0, float64(h.Note.Trial.Centre.Y), 0.5)
}

// The dots of a trial are the very dots that the panel gets at that power.
func TestTrialHasThePanelsDots(t *testing.T) {
	j := uneven(t)
	pl, err := j.Document.Placement()
	require.NoError(t, err)
	size := layout.Size{W: pl.Grid.Size().W / 3, H: pl.Grid.Size().H / 4}
	powers := []float64{20, 35.5, 60}
	at := layout.Point{X: pl.Centre.X + size.W/4, Y: pl.Centre.Y - size.H/5}
	dir, h := trialOf(t, j, job.TrialRequest{Size: size, At: &at, Powers: powers})
	n := h.Note
	require.Equal(t, "chosen by the maker", n.Trial.Why)
	require.Len(t, n.Steps, len(powers))
	require.Len(t, n.Trial.Pieces, len(powers))
	pitch := float64(pl.Grid.Pitch)
	for i, power := range powers {
		piece := n.Trial.Pieces[i]
		require.Equal(t, power, piece.PowerPercent)
		require.Equal(t, power, n.Steps[i].PowerPercent)
		require.Equal(t, job.StepFile(i), piece.File)
		got := pixels(t, filepath.Join(dir, piece.File))
		require.Equal(t, n.RasterDots, [2]int{got.Rect.Dx(), got.Rect.Dy()}, "all rasters are of one size")
		left := int(math.Round(float64(piece.Corners[0].X-n.Corners[0].X) / pitch))
		w := int(math.Round(float64(piece.Corners[1].X-piece.Corners[0].X) / pitch))
		top := int(math.Round(float64(n.Corners[0].Y-piece.Corners[0].Y) / pitch))
		h := int(math.Round(float64(piece.Corners[0].Y-piece.Corners[3].Y) / pitch))
		marked := marksOn(n)

		other := *j
		other.Document = j.Document.Clone()
		other.Document.Setting.PowerPercent = power
		whole, _ := prepared(t, &other, job.RasterOutput)
		want := raster(t, whole)
		fromX := int(math.Round(float64(n.Trial.Centre.X-n.Trial.Size.W/2-pl.Corners[0].X) / pitch))
		fromY := int(math.Round(float64(pl.Corners[0].Y-n.Trial.Centre.Y-n.Trial.Size.H/2) / pitch))
		for y := range got.Rect.Dy() {
			for x := range got.Rect.Dx() {
				shade := uint8(255) // outside its own piece a raster burns nothing but marks
				switch inRim := y < top || y >= top+h; {
				case !inRim && x >= left && x < left+w:
					shade = want.GrayAt(fromX+x-left, fromY+y-top).Y
				case n.Trial.MarkPowerPercent == power && marked.At(x, y):
					shade = 0
				}
				if got.GrayAt(x, y).Y != shade {
					t.Fatalf("%g %%: dot %d, %d is %d, want %d", power, x, y, got.GrayAt(x, y).Y, shade)
				}
			}
		}
	}
	require.FileExists(t, filepath.Join(dir, job.ProofFile))
	require.FileExists(t, filepath.Join(dir, job.PlacementTextFile))
	require.Greater(t, n.BurnTimeS, 0.0)
}

// marksOn are the dots of a trial's marks: squares in the raster's corners, the upper left
// one with a hole in it.
func marksOn(n export.Note) *plane.Bits {
	grid := layout.Grid{Cols: n.RasterDots[0], Rows: n.RasterDots[1], Pitch: n.Pitch}
	out := plane.NewBits(grid.Cols, grid.Rows)
	swatch.Chart{Size: grid.Size(), Marks: layout.Area{Size: grid.Size()}.Corners(), MarkSide: n.Trial.MarkSide}.EachMarkDot(grid, out.Set)
	return out
}

func TestTrialAtTheJobsOwnPower(t *testing.T) {
	dir, h := trialOf(t, uneven(t), job.TrialRequest{Size: layout.Size{W: 6, H: 5}})
	require.Empty(t, h.Note.Steps)
	require.Equal(t, job.RasterFile, h.Note.Trial.Pieces[0].File)
	require.Equal(t, h.Note.Centre, h.Note.Trial.Pieces[0].Centre)
	require.Equal(t, h.Note.RasterDots, [2]int{raster(t, dir).Rect.Dx(), raster(t, dir).Rect.Dy()})
}

func TestTrialsThatAreRefused(t *testing.T) {
	j := uneven(t)
	byPower := *j
	byPower.Document = j.Document.Clone()
	byPower.Document.Machine.PowerPerPixel, byPower.Document.Match = true, job.MatchPower
	far := layout.Point{X: 500}
	nan := layout.Point{X: layout.MM(math.NaN())}
	many := make([]float64, job.MaxTrials+1)
	small := layout.Size{W: 6, H: 5}
	for _, c := range []struct {
		job  *job.Job
		r    job.TrialRequest
		want string
	}{
		{j, job.TrialRequest{Size: layout.Size{W: 600, H: 5}}, "trial piece of 600 x 5 mm is not possible: choose from 2 x 2 mm up to the picture's"},
		{j, job.TrialRequest{Size: layout.Size{W: 1, H: 5}}, "is not possible"},
		{j, job.TrialRequest{Size: layout.Size{W: layout.MM(math.NaN()), H: 5}}, "is not possible"},
		{j, job.TrialRequest{Size: small, At: &far}, "reaches out of the picture: choose a middle from"},
		{j, job.TrialRequest{Size: small, At: &nan}, "reaches out of the picture"},
		{j, job.TrialRequest{Size: small, Powers: []float64{20, 120}}, "power 2: power_percent 120 is out of range"},
		{j, job.TrialRequest{Size: small, Powers: many}, fmt.Sprintf("%d powers are too many", job.MaxTrials+1)},
		{&byPower, job.TrialRequest{Size: small, Powers: []float64{20, 30}}, "bring their own powers"},
	} {
		c.r.Dir = filepath.Join(t.TempDir(), "no")
		_, err := job.Trial(t.Context(), c.job, c.r)
		require.ErrorContains(t, err, c.want)
		require.NoDirExists(t, c.r.Dir)
	}
}

func TestReadTrialGivesBackWhatWasBurned(t *testing.T) {
	j := uneven(t)
	dir, h := trialOf(t, j, job.TrialRequest{Size: layout.Size{W: 6, H: 5}, Powers: []float64{20, 35}})
	f, err := job.ReadTrial(dir)
	require.NoError(t, err)
	require.Equal(t, j.Document.Setting.PowerPercent, f.MeantPower)
	require.True(t, j.Document.Stack.Equal(f.Scrap.Stack))
	require.Equal(t, j.Document.Machine, f.Scrap.Machine)
	require.Equal(t, h.Note.RasterDots, [2]int{f.Placement.Grid.Cols, f.Placement.Grid.Rows})
	require.Len(t, f.Raster.Steps, 2)
	for i, p := range f.Pieces {
		require.Equal(t, h.Note.Trial.Pieces[i].PowerPercent, p.PowerPercent)
		require.Equal(t, h.Note.Trial.Pieces[i].Corners, export.RoundedCorners(f.Placement.Part(p.Rows, p.Cols).Corners))
		got := pixels(t, filepath.Join(dir, job.StepFile(i)))
		for y := range got.Rect.Dy() {
			for x := range got.Rect.Dx() {
				require.Equal(t, got.GrayAt(x, y).Y == 0, f.Raster.Steps[i].Dots.At(x, y))
			}
		}
	}
}

// A machine with a power for each dot gets one raster of eight bits, and it comes back.
func TestReadTrialOfPowers(t *testing.T) {
	j := uneven(t)
	j.Document.Machine.PowerPerPixel, j.Document.Match = true, job.MatchPower
	dir, _ := trialOf(t, j, job.TrialRequest{Size: layout.Size{W: 6, H: 5}})
	f, err := job.ReadTrial(dir)
	require.NoError(t, err)
	require.NotNil(t, f.Raster.Shares)
	require.Len(t, f.Pieces, 1)
}

func TestFoldersThatAreNoTrial(t *testing.T) {
	made, _ := trialOf(t, uneven(t), job.TrialRequest{Size: layout.Size{W: 6, H: 5}, Powers: []float64{20, 35}})
	changed := func(name string, change func(path string) error) string {
		dir := filepath.Join(t.TempDir(), "copy")
		require.NoError(t, os.CopyFS(dir, os.DirFS(made)))
		require.NoError(t, change(filepath.Join(dir, name)))
		return dir
	}
	edit := func(path string) error {
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(path, bytes.Replace(data, []byte("35"), []byte("45"), 1), 0o600)
	}
	for _, c := range []struct{ dir, says string }{
		{filepath.Join(made, "missing"), "there is no folder"},
		{filepath.Join(made, job.TrialFile), "there is no folder"},
		{t.TempDir(), "holds no trial.json"},
		{changed(job.TrialFile, os.Remove), "holds no trial.json"},
		{changed(job.PlacementJSONFile, os.Remove), "there is no file"},
		{changed(job.PlacementJSONFile, func(path string) error { return os.WriteFile(path, []byte("{}"), 0o600) }), "does not belong to the placement note"},
		{changed(job.TrialFile, edit), "trial.json was changed after the trial was written"},
		{changed(job.StepFile(1), os.Remove), "there is no file"},
		{changed(job.StepFile(1), func(path string) error { return os.Truncate(path, 40) }), "step-2.png was changed"},
		{changed(job.MeantFile, func(path string) error { return os.WriteFile(path, nil, 0o600) }), "meant.png was changed"},
	} {
		_, err := job.ReadTrial(c.dir)
		require.ErrorContains(t, err, c.says)
	}
}
