package compare_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/compare"
	"undercoat/imaging/job"
	"undercoat/imaging/match"
	"undercoat/layout"
)

// newTrial is the folder of a trial of the demo job on a small panel.
func newTrial(t testing.TB, at layout.Point, powers ...float64) string {
	t.Helper()
	j, pic, err := job.Demo(t.Context())
	require.NoError(t, err)
	d := j.Document
	d.Panel.Size = layout.Size{W: 90, H: 120}
	d.Border = layout.Even(5)
	d.Setting.Pitch = 0.15
	d, err = d.Refit(pic)
	require.NoError(t, err)
	dir := filepath.Join(t.TempDir(), "trial")
	r := job.TrialRequest{Dir: dir, Size: layout.Size{W: 24, H: 18}, Powers: powers, Picture: pic}
	if at != (layout.Point{}) {
		r.At = &at
	}
	_, err = job.Trial(t.Context(), &job.Job{Document: d, Picture: j.Picture}, r)
	require.NoError(t, err)
	return dir
}

// trialShot is a photograph of the scrap, burned with a factor on the dose of each piece.
func trialShot(t testing.TB, dir string, c camera, factors ...float64) []byte {
	t.Helper()
	f, err := job.ReadTrial(dir)
	require.NoError(t, err)
	raster := f.Raster
	if len(raster.Steps) > 0 {
		raster.Steps = slices.Clone(raster.Steps)
		for i := range raster.Steps {
			s := raster.Steps[i]
			raster.Steps[i] = job.RasterStep{Step: match.Step{PowerPercent: s.PowerPercent * factors[i%len(factors)]}, Dots: s.Dots}
		}
	}
	recipe := f.Scrap.Recipe()
	if len(raster.Steps) == 0 {
		recipe.Machine.OpticalPowerW *= factors[0]
	}
	finished, err := f.Scrap.PanelProof(t.Context(), recipe, raster, f.Placement, 700, nil)
	require.NoError(t, err)
	w, h := 1200, 1200*finished.Rect.Dy()/finished.Rect.Dx()+100
	k, x, y := c.tilt, float64(w), float64(h)
	corners := [4]layout.PicturePoint{{X: 90 + k, Y: 90}, {X: x - 100 - k, Y: 95 + k/2}, {X: x - 110, Y: y - 110 - k/2}, {X: 105 - k/3, Y: y - 95}}
	return photographFile(t, finished, corners, w, h, c)
}

var usual = camera{fallOff: 0.25, cast: [3]float64{1.1, 1, 0.8}, noise: 0.004, seed: 5, tilt: 30}

func compared(t testing.TB, dir string, shot []byte, o compare.Options) (*compare.TrialResult, error) {
	t.Helper()
	f, err := job.ReadTrial(dir)
	require.NoError(t, err)
	return compare.Trial(t.Context(), f, "trial.jpg", shot, o)
}

func TestATrialAgainstItsProof(t *testing.T) {
	dir := newTrial(t, layout.Point{}, 48, 60, 75)
	for _, factor := range []float64{0.8, 1, 1.1, 1.25} {
		t.Run(fmt.Sprint(factor), func(t *testing.T) { requireTrialFactor(t, dir, factor) })
	}
	t.Run("pieces that disagree", func(t *testing.T) {
		r, err := compared(t, dir, trialShot(t, dir, usual, 0.85, 1, 1.15), compare.Options{})
		require.NoError(t, err)
		for i, factor := range []float64{0.85, 1, 1.15} {
			require.InEpsilon(t, factor, r.Pieces[i].Dose.Factor, 0.04)
		}
		require.True(t, r.Disagree)
		require.Contains(t, fmt.Sprint(r.Words), "do not tell of one dose")
		require.Greater(t, r.Dose.LnSD, 0.05)
	})
}

// requireTrialFactor burns a trial with a factor on its dose and asks that it comes back
// within 3 %, and each piece's by itself within 4 %. What is meant at 60 % comes out at
// 75 % with a fifth less light, and at 48 % with a quarter more.
func requireTrialFactor(t *testing.T, dir string, factor float64) {
	r, err := compared(t, dir, trialShot(t, dir, usual, factor), compare.Options{})
	require.NoError(t, err)
	for _, w := range r.Words {
		t.Log(w)
	}
	require.InEpsilon(t, factor, r.Dose.Factor, 0.03)
	require.InDelta(t, 60/factor, r.CloserPower, 2)
	require.False(t, r.Disagree)
	for _, p := range r.Pieces {
		require.InEpsilon(t, factor, p.Dose.Factor, 0.04)
		require.Less(t, p.Dose.Range95[0], factor)
		require.Greater(t, p.Dose.Range95[1], factor)
	}
	words := fmt.Sprint(r.Words)
	switch {
	case factor > 1.05:
		require.Contains(t, words, "more light")
	case factor < 0.95:
		require.Contains(t, words, "less light")
	default:
		require.Contains(t, words, "the dose was as set")
		require.Less(t, r.Pieces[0].Mean, 1.5)
		require.InDelta(t, r.Pieces[1].Mean, r.Pieces[1].ToMeant, 0.5, "at 60 % its own proof is what is meant")
	}
	if want, ok := map[float64]float64{0.8: 75, 1: 60, 1.25: 48}[factor]; ok {
		require.Equal(t, want, r.Closest)
		require.Contains(t, words, fmt.Sprintf("%g %% came closest to what is meant, the proof at the job's 60 %%", want))
	}
}

// A single piece, lying on its side in the photograph, and its marks given by hand.
func TestATrialOfOnePieceTurned(t *testing.T) {
	dir := newTrial(t, layout.Point{})
	upright, err := png.Decode(bytes.NewReader(pngShot(t, dir, 1.1)))
	require.NoError(t, err)
	w, h := upright.Bounds().Dx(), upright.Bounds().Dy()
	turned := image.NewRGBA(image.Rect(0, 0, h, w))
	for y := range h {
		for x := range w {
			turned.Set(h-1-y, x, upright.At(x, y))
		}
	}
	r, err := compared(t, dir, encoded(t, turned), compare.Options{})
	require.NoError(t, err)
	require.InEpsilon(t, 1.1, r.Dose.Factor, 0.03)
	require.Len(t, r.Pieces, 1)

	f, err := job.ReadTrial(dir)
	require.NoError(t, err)
	rim := float64(f.Placement.Panel.Size.W-f.Marks.Size.W) / 2 * float64(w) / float64(f.Placement.Panel.Size.W)
	x, y := float64(w)-rim+3, float64(h)-rim-2
	corners := [4]layout.PicturePoint{{X: rim - 2, Y: rim + 1}, {X: x, Y: rim}, {X: x - 4, Y: y}, {X: rim, Y: y + 3}}
	r, err = compared(t, dir, encoded(t, upright), compare.Options{Corners: &corners})
	require.NoError(t, err)
	require.InEpsilon(t, 1.1, r.Dose.Factor, 0.03)
}

// pngShot is the scrap alone, squarely.
func pngShot(t testing.TB, dir string, factor float64) []byte {
	t.Helper()
	f, err := job.ReadTrial(dir)
	require.NoError(t, err)
	recipe := f.Scrap.Recipe()
	recipe.Machine.OpticalPowerW *= factor
	img, err := f.Scrap.PanelProof(t.Context(), recipe, f.Raster, f.Placement, 800, nil)
	require.NoError(t, err)
	return encoded(t, img)
}

func encoded(t testing.TB, img image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, img))
	return out.Bytes()
}

func TestWhatIsNotTheTrialIsSaidPlainly(t *testing.T) {
	dir := newTrial(t, layout.Point{}, 45, 75)
	other := newTrial(t, layout.Point{X: -20, Y: 35}, 45, 75)
	blank := image.NewRGBA(image.Rect(0, 0, 600, 400))
	for i := range blank.Pix {
		blank.Pix[i] = 120
	}
	shot := pngShot(t, dir, 1)
	mirrored, err := png.Decode(bytes.NewReader(shot))
	require.NoError(t, err)
	m := image.NewRGBA(mirrored.Bounds())
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			m.Set(m.Rect.Dx()-1-x, y, mirrored.At(x, y))
		}
	}
	for name, c := range map[string]struct {
		shot []byte
		says string
	}{
		"nothing":       {encoded(t, blank), "corner marks are not found"},
		"another trial": {pngShot(t, other, 1), "does not show the pieces of this trial"},
		"mirrored":      {encoded(t, m), "mirrored"},
		"small":         {encoded(t, image.NewRGBA(image.Rect(0, 0, 150, 90))), "at least 200"},
		"no picture":    {[]byte("a letter"), "trial.jpg"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := compared(t, dir, c.shot, compare.Options{})
			require.ErrorContains(t, err, c.says)
		})
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	f, err := job.ReadTrial(dir)
	require.NoError(t, err)
	_, err = compare.Trial(ctx, f, "trial.png", shot, compare.Options{})
	require.ErrorIs(t, err, context.Canceled)
}
