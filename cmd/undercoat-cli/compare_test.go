package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
)

// A panel that had a tenth more light than meant is compared, recorded, and its curve
// updated; the photograph is the whole panel, squarely.
func TestCompareTellsTheDoseAndKeepsTheRecord(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	require.NoError(t, os.WriteFile(in("photo.jpeg"), photograph(t), 0o600))
	done(t, "new", "-o", in("boat.undercoat"), "--picture", in("photo.jpeg"), "--panel", "80x60mm", "--border", "5mm", "--pitch", "0.1mm", "--power", "60")
	j, err := job.Read(in("boat.undercoat"))
	require.NoError(t, err)
	v, err := j.Develop(t.Context(), nil)
	require.NoError(t, err)
	pl, err := j.Document.Placement()
	require.NoError(t, err)
	raster, err := v.Raster(t.Context(), pl)
	require.NoError(t, err)
	recipe := j.Document.Recipe()
	recipe.Machine.OpticalPowerW *= 1.1
	img, err := j.Document.PanelProof(t.Context(), recipe, raster, pl, 800, nil)
	require.NoError(t, err)
	var photo bytes.Buffer
	require.NoError(t, export.WriteProof(&photo, img, 0))
	require.NoError(t, os.WriteFile(in("finished.png"), photo.Bytes(), 0o600))

	out := done(t, "compare", in("boat.undercoat"), in("finished.png"), "--json", "--map", in("map.png"), "--update", in("updated.json"), "--record", "hung in the hall")
	var result comparison
	require.NoError(t, json.Unmarshal(out, &result))
	require.InDelta(t, 1.1, result.Dose.Factor, 0.033)
	require.InDelta(t, 60/1.1, result.CloserPower, 2)
	require.FileExists(t, in("map.png"))

	data, err := os.ReadFile(in("updated.json"))
	require.NoError(t, err)
	stack, err := coat.ReadStack(data)
	require.NoError(t, err)
	before, err := j.Document.Stack.Compile(coat.Options{})
	require.NoError(t, err)
	after, err := stack.Compile(coat.Options{})
	require.NoError(t, err)
	require.InDelta(t, before.BreakThrough(0)/1.1, after.BreakThrough(0), 0.03*before.BreakThrough(0))

	kept, err := job.Read(in("boat.undercoat"))
	require.NoError(t, err)
	require.Len(t, kept.Document.Finished, 1)
	require.Equal(t, "hung in the hall", kept.Document.Finished[0].Remark)
	require.Equal(t, photo.Bytes(), kept.Photos[kept.Document.Finished[0].SHA256])
	require.Equal(t, j.Picture, kept.Picture)
}
