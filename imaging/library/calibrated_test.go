package library_test

import (
	"errors"
	"io/fs"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/library"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// calibrated is a starter stack as if it had been fitted from one swatch.
func calibrated(t *testing.T) coat.Stack {
	t.Helper()
	s, err := coat.ReadStack(starter(t, assets.Stack, "slate-cream"))
	require.NoError(t, err)
	s.Curve.Calibrated = true
	s.Curve.Origin = &coat.Origin{Date: "2024-05-06", Swatches: 1, Covered: coat.Covered{
		PowerPercent: [2]float64{10, 10}, SpeedMMPerMin: [2]float64{1000, 1000}, PitchMM: [2]layout.MM{0.1, 0.1}, Passes: [2]int{1, 1}, DoseJCM2: [2]float64{3, 3},
	}}
	return s
}

func seenSwatches(t *testing.T, word string) swatch.Readings {
	t.Helper()
	r, err := swatch.ReadReadings([]byte(`{"kind":"undercoat-readings","version":1,"swatches":[{"id":"A1","power_percent":10,"speed_mm_per_min":1000,"pitch_mm":0.1,"passes":1,"optical_power_w":5,"seen":"` + word + `"}]}`))
	require.NoError(t, err)
	return r
}

func TestACalibratedStackIsKeptWithItsReadings(t *testing.T) {
	l := library.In(t.TempDir())
	charts := []swatch.Readings{seenSwatches(t, "slate"), seenSwatches(t, "cream")}
	kept, err := l.SaveCalibrated("mine", calibrated(t), charts, false)
	require.NoError(t, err)
	back, err := l.Stack("mine")
	require.NoError(t, err)
	require.Equal(t, kept, back)
	names, found, err := l.ReadingsOf(back)
	require.NoError(t, err)
	require.Equal(t, []string{"mine-chart-1", "mine-chart-2"}, names)
	require.Equal(t, charts, found)

	// Without force nothing is touched, even where only one of the names is taken.
	_, err = l.SaveCalibrated("mine", calibrated(t), charts[:1], false)
	require.ErrorIs(t, err, fs.ErrExist)
	require.NoError(t, l.Remove(library.Stack, "mine"))
	require.NoError(t, l.Remove(library.Readings, "mine-chart-2"))
	_, err = l.SaveCalibrated("mine", calibrated(t), []swatch.Readings{charts[1], charts[0]}, false)
	require.ErrorIs(t, err, fs.ErrExist)
	require.NotContains(t, l.Names(library.Stack), "mine")
	require.Equal(t, []string{"mine-chart-1"}, l.Names(library.Readings))
	_, err = l.SaveCalibrated("mine", calibrated(t), charts[1:], true)
	require.NoError(t, err)
	_, found, err = l.ReadingsOf(kept)
	require.Equal(t, charts[1:], found, "those that are left")
	var none *library.NoEntryError
	require.ErrorAs(t, err, &none)
	require.Equal(t, "mine-chart-2", none.Name)
}

func TestOnlyACalibratedStackHasReadings(t *testing.T) {
	l := library.In(t.TempDir())
	plain := calibrated(t)
	plain.Curve.Origin = nil
	_, err := l.SaveCalibrated("mine", plain, nil, false)
	require.ErrorContains(t, err, "find the curve first")
	names, found, err := l.ReadingsOf(plain)
	require.NoError(t, err)
	require.Empty(t, names)
	require.Empty(t, found)

	_, err = l.SaveCalibrated("a/b", calibrated(t), nil, false)
	require.ErrorContains(t, err, "choose another")
	_, err = l.SaveCalibrated("mine", calibrated(t), []swatch.Readings{{}}, false)
	require.ErrorContains(t, err, "swatches")
	require.NotContains(t, l.Names(library.Stack), "mine")
	var starters library.Library
	_, err = starters.SaveCalibrated("mine", calibrated(t), nil, false)
	require.Error(t, err)
}

func TestAFolderThatTakesNothingKeepsNoHalf(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write anywhere")
	}
	dir := t.TempDir()
	require.NoError(t, os.Chmod(dir, 0o500))
	_, err := library.In(dir).SaveCalibrated("mine", calibrated(t), []swatch.Readings{seenSwatches(t, "slate")}, false)
	var failed *export.WriteError
	require.True(t, errors.As(err, &failed), "%v", err)
}
