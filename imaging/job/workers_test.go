package job_test

import (
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/screen"
)

// TestTheWholeHandOffIsTheSameOnOneToEightWorkers takes the two ways from light to
// dots: row by row, and, where a tint depends on more than its own dot's light, whole.
func TestTheWholeHandOffIsTheSameOnOneToEightWorkers(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, c := range []struct {
		name   string
		change func(*job.Document)
	}{
		{"row by row", func(*job.Document) {}},
		{"with a fade", func(d *job.Document) { d.Picture.Fade = picture.Fade{Shape: picture.FadeOval, Feather: 8} }},
		{"beam-aware", func(d *job.Document) { d.Screen.Kind = screen.BeamAware }},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := plain(t, 80, 60, 0.1)
			c.change(&d)
			j := withPicture(t, d, "dunes.jpg", golden(t, "dunes.jpg"))
			var first map[string]string
			for workers := 1; workers <= 8; workers++ {
				runtime.GOMAXPROCS(workers)
				dir := filepath.Join(t.TempDir(), "out")
				_, err := job.Prepare(t.Context(), j, job.Request{Dir: dir, Only: []job.Output{job.RasterOutput, job.PlacementOutput}})
				require.NoError(t, err)
				got := filesIn(t, dir)
				if first == nil {
					first = got
				}
				require.Equal(t, first, got, "%d workers", workers)
			}
		})
	}
}
