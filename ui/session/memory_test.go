package session_test

import (
	"math"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
)

// heap is what is held once all that can be let go is gone: the least of some
// looks, since work going on in the background holds its buffers until it is done.
func heap() int64 {
	least := int64(math.MaxInt64)
	for range 10 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		least = min(least, int64(m.HeapAlloc))
		time.Sleep(50 * time.Millisecond)
	}
	return least
}

func TestDragsLeaveNothingBehind(t *testing.T) {
	pictures := make(chan session.Picture, 16)
	quiet := open(t, nil)
	j, pic := quiet.Job()
	s := session.New(j, pic, session.Options{
		Render: func(p session.Picture) { pictures <- p },
		Found:  func(session.Found) {}, Depths: func(session.Depths) {}, Cores: func([]session.Core) {},
	})
	t.Cleanup(s.Close)
	s.Compare(&session.Other{Change: func(d *job.Document) error { d.Setting.PowerPercent = 33; return nil }})
	s.Show(session.Frame{View: session.ProofView, W: 48, H: 64}, session.Frame{View: session.ProofView, W: 48, H: 64, Other: true})
	drag := func(n int) {
		for i := range n {
			require.NoError(t, s.Edit("power", "drag", func(d *job.Document) error {
				d.Setting.PowerPercent = 40 + float64(i%200)/10
				d.Border.Left = 6 + layout.MM(i%7)/10
				return nil
			}))
			s.Probe(i%2 == 0, layout.Point{X: layout.MM(i % 20)})
			for p := next(t, pictures); p.Generation < s.Generation(); p = next(t, pictures) {
			}
			s.EndDrag()
		}
	}
	drag(600) // until the history is as long as it gets
	before := heap()
	drag(2000)
	grown := heap() - before
	t.Logf("%d KB held, grown by %d KB", before>>10, grown>>10)
	require.Less(t, grown, int64(2<<20))
}
