package batch_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"undercoat/imaging/batch"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/process"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// shop makes orders of small text files, so that what is tested is the batch alone.
// Its orders may name files more and may fail.
type shop struct {
	made atomic.Int32
	stop func(order string) // told of each order before it is made
}

func (s *shop) open(o batch.Order) (batch.Work, error) {
	if o.Cells["picture"] == "none" {
		return batch.Work{}, errors.New("there is no file none")
	}
	return batch.Work{
		Inputs: fmt.Sprint(o.Cells["picture"], o.Cells["power"]),
		Prepare: func(ctx context.Context, dir string) (*job.Handoff, error) {
			if s.stop != nil {
				s.stop(o.Name)
			}
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if o.Cells["power"] == "1000" {
				return nil, errors.New("power 1000 is out of range")
			}
			s.made.Add(1)
			names := []string{"raster.png", "placement.txt"}
			if o.Cells["power"] == "steps" {
				names[0] = "step-1.png"
			}
			var files []export.Content
			h := &job.Handoff{Cautions: []string{"beware"}}
			for _, name := range names {
				files = append(files, export.Content{Name: name, Write: func(w io.Writer) error {
					_, err := io.WriteString(w, o.Cells["picture"]+o.Cells["power"])
					return err
				}})
				h.Files = append(h.Files, filepath.Join(dir, name))
			}
			h.Note.BurnTimeS, h.Note.RasterDots = 60, [2]int{30, 40}
			_, err := export.WriteSet(dir, files, true)
			return h, err
		},
	}, nil
}

func run(t *testing.T, s *shop, dir, table string, workers int) []batch.Result {
	t.Helper()
	results, err := batch.Run(t.Context(), batch.Request{Dir: dir, Orders: read(t, table), Open: s.open, Workers: workers})
	require.NoError(t, err)
	return results
}

func states(results []batch.Result) []batch.State {
	var out []batch.State
	for _, r := range results {
		out = append(out, r.State)
	}
	return out
}

// tree is every file below a folder, hidden ones too.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		files[filepath.ToSlash(name)] = string(data)
		return err
	}))
	return files
}

const threeOrders = "order,picture,power,copies\na,x,30,1\nb,none,30,1\nc,y,1000,1\nd,z,40,3\n"

func TestAFailedOrderStopsNoOther(t *testing.T) {
	for _, workers := range []int{0, 1, 3, 50} {
		t.Run(fmt.Sprint(workers, " workers"), func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "deep", "out")
			results := run(t, &shop{}, dir, threeOrders, workers)
			require.Equal(t, []batch.State{batch.Made, batch.Failed, batch.Failed, batch.Made}, states(results))
			require.ErrorContains(t, results[1].Err, "no file none")
			require.ErrorContains(t, results[2].Err, "out of range")
			require.NoError(t, batch.WriteSummary(dir, results))
			files := tree(t, dir)
			require.Len(t, files, 7)
			require.Equal(t, "order,result,copies,dots_wide,dots_high,burn_time_one_s,burn_time_all_s,fits,calibrated,folder,remarks\n"+
				"a,done,1,30,40,60,60,false,false,a,beware\n"+
				"b,failed,1,,,,,,,,line 3: there is no file none\n"+
				"c,failed,1,,,,,,,,line 4: power 1000 is out of range\n"+
				"d,done,3,30,40,60,180,false,false,d,beware\n", files["summary.csv"])
		})
	}
}

func TestOnlyWhatHasChangedIsMadeAgain(t *testing.T) {
	dir := t.TempDir()
	s := &shop{}
	run(t, s, dir, threeOrders, 2)
	before := tree(t, dir)
	require.Equal(t, []batch.State{batch.Unchanged, batch.Failed, batch.Failed, batch.Unchanged}, states(run(t, s, dir, threeOrders, 2)))
	require.EqualValues(t, 2, s.made.Load())
	require.Equal(t, before, tree(t, dir))

	for name, c := range map[string]struct {
		change func()
		table  string
	}{
		"another cell":        {func() {}, strings.Replace(threeOrders, "z,40", "z,50", 1)},
		"back again":          {func() {}, threeOrders},
		"more copies":         {func() {}, strings.Replace(threeOrders, "z,40,3", "z,40,4", 1)},
		"a file is gone":      {func() { require.NoError(t, os.Remove(filepath.Join(dir, "d", "raster.png"))) }, threeOrders},
		"a file is spoiled":   {func() { spoil(t, filepath.Join(dir, "d", "raster.png")) }, threeOrders},
		"the record is gone":  {func() { require.NoError(t, os.Remove(filepath.Join(dir, "d", batch.RecordFile))) }, threeOrders},
		"the record is wrong": {func() { spoil(t, filepath.Join(dir, "d", batch.RecordFile)) }, threeOrders},
	} {
		t.Run(name, func(t *testing.T) {
			run(t, s, dir, threeOrders, 1)
			if name == "back again" {
				run(t, s, dir, strings.Replace(threeOrders, "z,40", "z,50", 1), 1)
			}
			c.change()
			require.Equal(t, []batch.State{batch.Unchanged, batch.Failed, batch.Failed, batch.Made}, states(run(t, s, dir, c.table, 1)))
		})
	}
	run(t, s, dir, threeOrders, 1)
	require.Equal(t, before, tree(t, dir))

	run(t, s, dir, strings.Replace(threeOrders, "z,40", "z,steps", 1), 1)
	require.NotContains(t, tree(t, dir), "d/raster.png", "what is not made any more goes")
	require.Contains(t, tree(t, dir), "d/step-1.png")
}

func spoil(t *testing.T, path string) {
	t.Helper()
	require.NoError(t, os.WriteFile(path, []byte("spoiled"), 0o600))
}

func TestRunStopsAndGoesOn(t *testing.T) {
	dir := t.TempDir()
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	s := &shop{stop: func(name string) {
		if name == "d" {
			stop()
		}
	}}
	request := batch.Request{Dir: dir, Orders: read(t, threeOrders), Open: s.open}
	_, err := batch.Run(ctx, request)
	require.ErrorIs(t, err, context.Canceled)
	require.NotContains(t, tree(t, dir), "d/raster.png")
	require.Len(t, tree(t, dir), 3, "and no lock")
	require.Equal(t, []batch.State{batch.Unchanged, batch.Failed, batch.Failed, batch.Made}, states(run(t, &shop{}, dir, threeOrders, 1)))
}

func TestAnOrderThatAnotherIsAtIsWaitedFor(t *testing.T) {
	dir := t.TempDir()
	lock, err := job.LockFile(filepath.Join(dir, "a"))
	require.NoError(t, err)
	var settled []string
	s := &shop{}
	_, err = batch.Run(t.Context(), batch.Request{Dir: dir, Orders: read(t, threeOrders), Open: s.open, Settled: func(r batch.Result) {
		settled = append(settled, r.Order.Name)
		if len(settled) == 3 {
			require.NoError(t, lock.Release())
		}
	}})
	require.NoError(t, err)
	require.Equal(t, []string{"b", "c", "d", "a"}, settled)

	lock, err = job.LockFile(filepath.Join(t.TempDir(), "a"))
	require.NoError(t, err)
	defer lock.Release()
	ctx, stop := context.WithCancel(t.Context())
	stop()
	_, err = batch.Run(ctx, batch.Request{Dir: dir, Orders: read(t, threeOrders), Open: s.open})
	require.ErrorIs(t, err, context.Canceled)
}

// Runs that share a folder make each order once between them, and all know at the
// end what came of each.
func TestManyRunsShareOneFolder(t *testing.T) {
	dir, alone := t.TempDir(), t.TempDir()
	table := "order,picture,power\n"
	for i := range 40 {
		table += fmt.Sprintf("o%d,%d,30\n", i, i)
	}
	table += "bad,none,1\n"
	require.NoError(t, batch.WriteSummary(alone, run(t, &shop{}, alone, table, 1)))
	s := &shop{}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			results, err := batch.Run(t.Context(), batch.Request{Dir: dir, Orders: slices.Clone(read(t, table)), Open: s.open, Workers: 2})
			if err == nil {
				err = batch.WriteSummary(dir, results)
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	require.EqualValues(t, 40, s.made.Load())
	require.Equal(t, tree(t, alone), tree(t, dir))
}

func TestALockOfOneWhoWasKilledWhenDoneIsCleared(t *testing.T) {
	dir := t.TempDir()
	s := &shop{}
	run(t, s, dir, threeOrders, 1)
	stale := filepath.Join(dir, ".a.lock")
	require.NoError(t, os.WriteFile(stale, []byte("{}"), 0o600))
	long := time.Unix(1, 0)
	require.NoError(t, os.Chtimes(stale, long, long))
	run(t, s, dir, threeOrders, 1)
	require.NoFileExists(t, stale)
	require.EqualValues(t, 2, s.made.Load())
}

// One who is killed between giving the last file its name and taking away the hidden
// folder in which it waited leaves that folder with an order that is done.
func TestAHiddenFolderOfOneWhoWasKilledWhenDoneIsCleared(t *testing.T) {
	dir := t.TempDir()
	s := &shop{}
	run(t, s, dir, threeOrders, 1)
	want := tree(t, dir)
	const nobody = 1 << 30 // no system numbers its processes so high
	hidden := filepath.Join(dir, "a", fmt.Sprintf(".undercoat-%s-%d-0", process.Here().Place, nobody))
	require.NoError(t, os.Mkdir(hidden, 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(hidden, "raster.png"), []byte("half"), 0o600))
	run(t, s, dir, threeOrders, 1)
	require.NoDirExists(t, hidden)
	require.Equal(t, want, tree(t, dir))
	require.EqualValues(t, 2, s.made.Load())
}

func TestAFolderThatCannotBeMadeIsAnErrorOfWriting(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	_, err := batch.Run(t.Context(), batch.Request{Dir: filepath.Join(file, "out"), Orders: read(t, threeOrders), Open: (&shop{}).open})
	var write *export.WriteError
	require.ErrorAs(t, err, &write)
}

func TestTheSummaryHoldsNoFormulas(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, batch.WriteSummary(dir, []batch.Result{{Order: batch.Order{Name: "=1+1"}, State: batch.Failed, Err: errors.New("no")}}))
	require.Contains(t, tree(t, dir)["summary.csv"], "\n'=1+1,failed")
}
