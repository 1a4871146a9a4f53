package bench

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/job"
)

// demoDesk is a bench on the demo job, which takes a while to prepare.
func demoDesk(t *testing.T) *desk {
	t.Helper()
	j, _, err := job.Demo(t.Context())
	require.NoError(t, err)
	return deskWith(t, j.Document, assets.DemoPicture())
}

func TestAHandOffShowsItsProgressAndEnds(t *testing.T) {
	d := newDesk(t)
	dir := t.TempDir()
	require.False(t, d.handOff.running.Visible())
	ended := d.HandOffTo(dir)
	require.NotNil(t, ended)
	require.True(t, d.handOff.running.Visible())
	require.True(t, d.handOff.drawer.IsOpen(), "so that it can be seen and cancelled")
	require.True(t, d.handOff.start.Disabled())
	require.True(t, d.toolbar.handOff.Disabled())
	require.Nil(t, d.HandOffTo(dir), "one at a time")

	last, falls := 0.0, false
	d.until("the end of the hand-off", func() bool {
		now := d.handOff.progress.Value
		falls = falls || now < last
		last = now
		return closed(ended)
	})
	require.False(t, falls, "progress only rises")
	require.Equal(t, 1.0, d.handOff.progress.Value)
	require.False(t, d.handOff.running.Visible())
	require.False(t, d.toolbar.handOff.Disabled())
	made, err := os.ReadDir(filepath.Join(dir, "job"))
	require.NoError(t, err)
	require.Contains(t, d.says(), fmt.Sprintf("%d files", len(made)))
	for _, name := range []string{job.RasterFile, job.PlacementTextFile, job.PlacementJSONFile, job.ProofFile} {
		require.FileExists(t, filepath.Join(dir, "job", name))
	}
}

func TestACancelledHandOffLeavesNothing(t *testing.T) {
	d := demoDesk(t)
	dir := t.TempDir()
	ended := d.HandOffTo(dir)
	d.until("some progress", func() bool { return d.handOff.progress.Value > 0 })
	test.Tap(d.handOff.cancel)
	d.until("the end of the hand-off", func() bool { return closed(ended) })
	require.Equal(t, "The hand-off was cancelled. Nothing was written.", d.says())
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Empty(t, left)
	require.False(t, d.handOff.running.Visible())
	require.False(t, d.handOff.start.Disabled(), "it can be started again")
}

func TestClosingTheWindowEndsAHandOff(t *testing.T) {
	d := demoDesk(t)
	dir := t.TempDir()
	require.NotNil(t, d.HandOffTo(dir))
	d.until("some progress", func() bool { return d.handOff.progress.Value > 0 })
	d.Close()
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Empty(t, left)
}

func TestAnEarlierHandOffIsReplacedOnlyWhenToldSo(t *testing.T) {
	d := newDesk(t)
	dir := t.TempDir()
	handOff := func() { ended := d.HandOffTo(dir); d.until("the end", func() bool { return closed(ended) }) }
	handOff()
	raster := filepath.Join(dir, "job", job.RasterFile)
	first, err := os.ReadFile(raster)
	require.NoError(t, err)

	d.openDrawer(burnNth)
	d.enter("Pitch", "0.25")
	handOff()
	require.Contains(t, d.says(), "There is a hand-off in "+filepath.Join(dir, "job")+" already.")
	now, err := os.ReadFile(raster)
	require.NoError(t, err)
	require.Equal(t, first, now)

	test.Tap(d.button("Replace it"))
	d.until("the end", func() bool { return d.handOff.stopRun == nil })
	require.Contains(t, d.says(), "Handed off")
	now, err = os.ReadFile(raster)
	require.NoError(t, err)
	require.NotEqual(t, first, now)
}

func TestAFolderThatCannotBeWrittenIsSaidPlainly(t *testing.T) {
	d := newDesk(t)
	file := d.file("not a folder", []byte("x"))
	ended := d.HandOffTo(file)
	d.until("the end", func() bool { return closed(ended) })
	text, next := d.notice.Said()
	requirePlain(t, text, "what is wrong")
	requirePlain(t, next, "what to do next")
}

// A job's name may hold what a folder's may not.
func TestTheFolderIsCalledAfterTheJob(t *testing.T) {
	d := newDesk(t)
	require.NoError(t, d.s.Edit("name", "", func(doc *job.Document) error { doc.Name = "../harbour"; return nil }))
	d.loop.turn()
	dir := t.TempDir()
	ended := d.HandOffTo(filepath.Join(dir, "inner"))
	d.until("the end", func() bool { return closed(ended) })
	require.Contains(t, d.says(), "Handed off")
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, left, 1, "nothing lies beside the folder that was chosen")
}

func TestCautionsAreShownWhereTheyStand(t *testing.T) {
	d := newDesk(t)
	require.False(t, d.handOff.drawer.IsOpen())
	d.tellCautions()
	require.True(t, d.handOff.drawer.IsOpen())
	require.Contains(t, d.handOff.facts.Texts(), "This stack has no fitted curve: uncalibrated, colours and depth are a guess.")
}
