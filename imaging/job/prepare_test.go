package job_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// everything is a job that goes through every stage: a picture on its side, an
// uneven border, even tones, more than one row of work for each worker.
func everything(t *testing.T) *job.Job {
	t.Helper()
	d := plain(t, 90, 60, 0.15)
	d.Name = "all/of it"
	d.Border = layout.Border{Left: 4, Right: 3, Top: 2, Bottom: 6}
	d.Picture.Tone.Mid, d.Picture.Tone.Contrast = 0.1, 0.2
	return withPicture(t, d, "dunes.jpg", golden(t, "dunes.jpg"))
}

// filesIn is every file in a folder, hidden ones too, by the checksum of its bytes.
func filesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	sums := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		require.NoError(t, err)
		sums[e.Name()] = job.Checksum(data)
	}
	return sums
}

func TestPrepareGivesTheSameBytesWithAnyNumberOfWorkers(t *testing.T) {
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	var first map[string]string
	for _, workers := range []int{1, 2, 4, 4} {
		runtime.GOMAXPROCS(workers)
		dir := filepath.Join(t.TempDir(), "out")
		_, err := job.Prepare(t.Context(), everything(t), job.Request{Dir: dir, KeepJob: true})
		require.NoError(t, err)
		files := filesIn(t, dir)
		if first == nil {
			first = files
			require.Len(t, files, 6)
			require.Contains(t, files, "all-of it.undercoat")
		}
		require.Equal(t, first, files, "%d workers", workers)
	}
}

func TestPrepareMakesOnlyWhatIsAskedFor(t *testing.T) {
	for _, c := range []struct {
		only []job.Output
		want []string
	}{
		{nil, []string{"raster.png", "proof.png", "sheet.pdf", "placement.txt", "placement.json"}},
		{[]job.Output{job.RasterOutput}, []string{"raster.png"}},
		{[]job.Output{job.ProofOutput}, []string{"proof.png"}},
		{[]job.Output{job.SheetOutput}, []string{"sheet.pdf"}},
		{[]job.Output{job.ClientOutput}, []string{"client.pdf"}},
		{[]job.Output{job.PlacementOutput, job.PlacementOutput}, []string{"placement.txt", "placement.json"}},
		{[]job.Output{job.PlacementOutput, job.RasterOutput}, []string{"raster.png", "placement.txt", "placement.json"}},
	} {
		t.Run(fmt.Sprint(c.only), func(t *testing.T) {
			dir, h := prepared(t, uneven(t), c.only...)
			var paths []string
			for _, name := range c.want {
				paths = append(paths, filepath.Join(dir, name))
			}
			require.Equal(t, paths, h.Files)
			require.Len(t, filesIn(t, dir), len(c.want))
		})
	}
	_, err := job.ParseOutputs([]string{"raster", "song"})
	require.EqualError(t, err, `"song" is not a part of the hand-off: choose from raster, proof, sheet, client, calendar, placement`)
}

// fuse is a context that ends when it has been asked for so many times: a moment
// in the run that is the same at every run.
type fuse struct {
	context.Context
	end  context.CancelFunc
	left atomic.Int64
}

func newFuse(t *testing.T, asked int64) *fuse {
	ctx, end := context.WithCancel(t.Context())
	t.Cleanup(end)
	f := &fuse{Context: ctx, end: end}
	f.left.Store(asked)
	return f
}

func (f *fuse) Err() error {
	if f.left.Add(-1) == 0 {
		f.end()
	}
	return f.Context.Err()
}

// TestPrepareLeavesNothingWhenItIsStopped ends the run at moments all along it:
// whenever the program asks whether to go on, and whenever it reports progress.
func TestPrepareLeavesNothingWhenItIsStopped(t *testing.T) {
	j := everything(t)
	top := t.TempDir()
	request := job.Request{Dir: filepath.Join(top, "of", "hand-offs"), KeepJob: true}

	whole := newFuse(t, math.MaxInt64)
	reports := 0
	request.Progress = func(float64) { reports++ }
	_, err := job.Prepare(whole, j, request)
	require.NoError(t, err)
	asked := math.MaxInt64 - whole.left.Load()
	require.Greater(t, asked, int64(300))
	require.Greater(t, reports, 4)
	require.NoError(t, os.RemoveAll(filepath.Join(top, "of")))

	nothing := func(t *testing.T, err error) {
		t.Helper()
		require.ErrorIs(t, err, context.Canceled)
		require.Empty(t, filesIn(t, top), "no file and no folder")
	}
	request.Progress = nil
	const moments = 16
	for i := range int64(moments) {
		at := 1 + i*(asked-1)/moments
		t.Run(fmt.Sprintf("asked %d of %d times", at, asked), func(t *testing.T) {
			_, err := job.Prepare(newFuse(t, at), j, request)
			nothing(t, err)
		})
	}
	// The last report comes when all is done and cannot be stopped any more.
	for i := 1; i < reports; i += max(1, reports/8) {
		t.Run(fmt.Sprintf("report %d of %d", i, reports), func(t *testing.T) {
			ctx, stop := context.WithCancel(t.Context())
			defer stop()
			seen := 0
			r := request
			r.Progress = func(float64) {
				if seen++; seen == i {
					stop()
				}
			}
			_, err := job.Prepare(ctx, j, r)
			nothing(t, err)
		})
	}
}

// A stopped run leaves an earlier hand-off in the same folder as it was.
func TestPrepareStoppedKeepsWhatWasThere(t *testing.T) {
	j := everything(t)
	dir, _ := prepared(t, j)
	before := filesIn(t, dir)
	j.Document.Setting.PowerPercent = 40
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	_, err := job.Prepare(ctx, j, job.Request{Dir: dir, Force: true, KeepJob: true, Progress: func(f float64) {
		if f > 0.9 {
			stop()
		}
	}})
	require.ErrorIs(t, err, context.Canceled)
	require.Equal(t, before, filesIn(t, dir))

	_, err = job.Prepare(t.Context(), j, job.Request{Dir: dir})
	require.ErrorIs(t, err, os.ErrExist)
	require.Equal(t, before, filesIn(t, dir), "nothing is replaced unasked")

	_, err = job.Prepare(t.Context(), j, job.Request{Dir: dir, Force: true})
	require.NoError(t, err)
	require.NotEqual(t, before, filesIn(t, dir))
}

// TestPrepareStopsSoon measures how long the run goes on after it was stopped, on
// a raster of a usual size. The program means to stop within 100 ms; the test
// leaves room for a busy machine.
func TestPrepareStopsSoon(t *testing.T) {
	if testing.Short() {
		t.Skip("prepares 17 million dots")
	}
	j, pic, err := job.Demo(t.Context())
	require.NoError(t, err)
	slowest := time.Duration(0)
	for _, at := range []time.Duration{0, 30, 60, 100, 150, 200, 300, 400, 500, 700, 900} {
		ctx, stop := context.WithTimeout(t.Context(), at*time.Millisecond)
		deadline, _ := ctx.Deadline()
		dir := filepath.Join(t.TempDir(), "out")
		_, err := job.Prepare(ctx, j, job.Request{Dir: dir, Picture: pic})
		late := time.Since(deadline)
		stop()
		if err == nil {
			break // a fast machine was done by then
		}
		require.ErrorIs(t, err, context.DeadlineExceeded)
		require.NoDirExists(t, dir)
		slowest = max(slowest, late)
	}
	t.Logf("stopped %v after it was asked to, at the latest", slowest.Round(time.Millisecond))
	require.Less(t, slowest, time.Second)
}
