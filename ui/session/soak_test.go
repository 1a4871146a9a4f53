package session_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
)

// soak is a session that is worked on at random.
type soak struct {
	t        *testing.T
	s        *session.Session
	random   *rand.Rand
	pictures [][]byte
	dir      string
	drag     string // the name of the drag in hand; empty: none
	refused  int
}

// edit changes something within and past its range: what is refused must leave the job
// as it was.
func (k *soak) edit() {
	r := k.random
	changes := []func(d *job.Document){
		func(d *job.Document) { d.Setting.PowerPercent = 110 * r.Float64() },
		func(d *job.Document) { d.Setting.Pitch = layout.MM(0.15 + 0.2*r.Float64()) },
		func(d *job.Document) { d.Setting.Passes = r.IntN(4) },
		func(d *job.Document) { d.Border = layout.Even(layout.MM(40 * r.Float64())) },
		func(d *job.Document) { d.Panel.Size.W = layout.MM(40 + 60*r.Float64()) },
		func(d *job.Document) { d.Picture.Tone.Mid = 2 * r.Float64() },
		func(d *job.Document) { d.Picture.Tone.Black, d.Picture.Tone.White = r.Float64()/2, 0.4+r.Float64() },
		func(d *job.Document) { d.Picture.QuarterTurns = r.IntN(5) },
		func(d *job.Document) { d.Picture.Crop.X = r.Float64() },
		func(d *job.Document) { d.Machine.BeamAlong = layout.MM(r.Float64() / 2) },
		func(d *job.Document) { d.Stack.Coats[0].ThicknessUM = 60 * r.Float64() },
	}
	change, before := changes[r.IntN(len(changes))], k.s.Document()
	err := k.s.Edit("a step", k.drag, func(d *job.Document) error { change(d); return nil })
	if err != nil {
		k.refused++
		require.Equal(k.t, before, k.s.Document(), "what is refused changes nothing")
	}
	require.NoError(k.t, k.s.Document().Validate())
}

// step does one thing of those that a maker does.
func (k *soak) step(ctx context.Context) {
	r, t := k.random, k.t
	switch n := r.IntN(100); {
	case n < 55:
		k.edit()
	case n < 65:
		k.s.EndDrag()
		if k.drag = ""; r.IntN(2) == 0 {
			k.drag = "drag"
		}
	case n < 75:
		for range 1 + r.IntN(5) {
			k.s.Undo()
		}
	case n < 80:
		k.s.Redo()
	case n < 86:
		view := []session.View{session.PictureView, session.DotsView, session.ProofView}[r.IntN(3)]
		k.s.Show(session.Frame{View: view, W: 40 + r.IntN(200), H: 40 + r.IntN(200)})
	case n < 90:
		k.s.Probe(r.IntN(2) == 0, layout.Point{X: layout.MM(20 * r.Float64())})
	case n < 92:
		if r.IntN(2) == 0 {
			k.s.Compare(nil)
			break
		}
		k.s.Compare(&session.Other{Change: func(d *job.Document) error { d.Setting.PowerPercent = 33; return nil }})
	case n < 94:
		require.NoError(t, k.s.OpenPicture(ctx, "photo.jpeg", k.pictures[r.IntN(len(k.pictures))]))
	case n < 96:
		path := filepath.Join(k.dir, fmt.Sprintf("%d.undercoat", r.IntN(3)))
		require.NoError(t, k.s.Save(path))
		require.NoError(t, k.s.OpenJob(ctx, path))
	case n < 97:
		_, _ = k.s.PowerStrip(ctx, []float64{20, 40}, 80) // refused where the job burns nothing
	case n < 98:
		_, _ = k.s.CoatMaps(ctx, 80) // as above
	case n < 99:
		require.Error(t, k.s.OpenPicture(ctx, "no.jpeg", k.pictures[0][:200]))
	default:
		k.handOff(ctx)
	}
}

// handOff writes everything, or is stopped on the way.
func (k *soak) handOff(ctx context.Context) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	out := filepath.Join(k.dir, "out")
	after := k.random.Float64() * 2
	_, err := k.s.HandOff(ctx, job.Request{Dir: out, Force: true, Progress: func(done float64) {
		if done > after {
			stop()
		}
	}})
	if err == nil {
		require.NoError(k.t, os.RemoveAll(out))
	}
}

// held is what a process holds.
type held struct {
	bytes            int64
	goroutines, open int
}

// atRest is what is held once no picture is asked for any more. Work that was begun
// takes a moment to end, so it is looked at until it is within the bounds, or no time
// is left.
func (k *soak) atRest(within held) held {
	k.t.Helper()
	k.s.Show()
	k.s.Compare(nil)
	var h held
	_ = assert.Eventually(quiet{}, func() bool {
		h = held{bytes: heap(), goroutines: runtime.NumGoroutine(), open: -1}
		if files, err := os.ReadDir("/proc/self/fd"); err == nil {
			h.open = len(files)
		}
		return h.bytes <= within.bytes && h.goroutines <= within.goroutines && h.open <= within.open
	}, 20*time.Second, 50*time.Millisecond) // whether it is within them is for the caller
	return h
}

// quiet says nothing of what fails.
type quiet struct{}

func (quiet) Errorf(string, ...any) {}

// A session that is worked on at random holds no more after long than it may after a
// moment. `make soak` does it for half an hour.
func TestSoak(t *testing.T) {
	const rounds = 12
	length := 6 * time.Second
	if text := os.Getenv("UNDERCOAT_SOAK"); text != "" {
		var err error
		length, err = time.ParseDuration(text)
		require.NoError(t, err)
	}
	s := open(t, func(session.Picture) {})
	k := &soak{t: t, s: s, dir: t.TempDir(), random: rand.New(rand.NewPCG(7, 11)),
		pictures: [][]byte{photo(t, 300, 200), photo(t, 200, 300), photo(t, 640, 480)}}
	// What the history, the renderer's tables and the newest picture hold at most.
	within := held{bytes: 16 << 20, goroutines: 8, open: 16}
	steps := 0
	for range rounds {
		for end := time.Now().Add(length / rounds); time.Now().Before(end); steps++ {
			k.step(t.Context())
		}
		h := k.atRest(within)
		t.Logf("%8d steps, %d refused: %6d KB, %d goroutines, %d files", steps, k.refused, h.bytes>>10, h.goroutines, h.open)
		require.LessOrEqual(t, h.bytes, within.bytes, "memory")
		require.LessOrEqual(t, h.goroutines, within.goroutines, "goroutines")
		require.LessOrEqual(t, h.open, within.open, "open files")
	}
	require.Greater(t, steps, 200)
	require.Positive(t, k.refused)
}
