package session_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
)

// demo is a session on the demo job, whose picture has 12.6 million pixels, showing
// the proof in a window of 1400 x 900.
func demo(b *testing.B) (*session.Session, chan session.Picture) {
	b.Helper()
	j, pic, err := job.Demo(b.Context())
	require.NoError(b, err)
	pictures := make(chan session.Picture, 1024)
	// With all that a window asks for.
	s := session.New(j, pic, session.Options{
		Render: func(p session.Picture) { pictures <- p },
		Found:  func(session.Found) {},
		Depths: func(session.Depths) {},
		Cores:  func([]session.Core) {},
	})
	b.Cleanup(s.Close)
	s.Show(demoFrame(s))
	newest(b, s, pictures)
	return s, pictures
}

// demoFrame is the whole picture area as large as 1400 x 900 pixels hold it.
func demoFrame(s *session.Session) session.Frame {
	pl, err := s.Document().Placement()
	if err != nil {
		panic(err)
	}
	size := pl.Grid.Size()
	scale := min(1400/float64(size.W), 900/float64(size.H))
	return session.Frame{View: session.ProofView, W: int(float64(size.W) * scale), H: int(float64(size.H) * scale)}
}

// newest waits for the first picture of the job as it is.
func newest(b *testing.B, s *session.Session, pictures <-chan session.Picture) session.Picture {
	b.Helper()
	wanted := s.Generation()
	for {
		select {
		case p := <-pictures:
			require.NoError(b, p.Err)
			if p.Generation >= wanted {
				return p
			}
		case <-time.After(time.Minute): // a bound on a broken run
			b.Fatal("no picture came")
		}
	}
}

// follow measures from each edit of a drag to the picture that shows it.
func follow(b *testing.B, name string, prepare func(*job.Document, layout.Crop), change func(d *job.Document, i int)) {
	b.Helper()
	s, pictures := demo(b)
	w, h := s.PictureSize()
	require.NoError(b, s.Edit("prepare", "", func(d *job.Document) error {
		prepare(d, layout.Crop{W: float64(w), H: float64(h)})
		return nil
	}))
	newest(b, s, pictures)
	i := 0
	var took []time.Duration
	for b.Loop() {
		i++
		began := time.Now()
		require.NoError(b, s.Edit(name, "drag", func(d *job.Document) error {
			change(d, i)
			return nil
		}))
		newest(b, s, pictures)
		took = append(took, time.Since(began))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
}

func asItIs(*job.Document, layout.Crop) {}

func BenchmarkPowerDrag(b *testing.B) {
	follow(b, "power", asItIs, func(d *job.Document, i int) { d.Setting.PowerPercent = 40 + float64(i%200)/10 })
}

func BenchmarkToneDrag(b *testing.B) {
	follow(b, "tone", asItIs, func(d *job.Document, i int) { d.Picture.Tone.Mid = float64(i%100) / 200 })
}

// Where colours are matched, the doses are counted dot by dot on a small view.
func BenchmarkToneDragByColour(b *testing.B) {
	byColour := func(d *job.Document, _ layout.Crop) { d.Match = job.MatchSteps }
	follow(b, "tone", byColour, func(d *job.Document, i int) { d.Picture.Tone.Mid = float64(i%100) / 200 })
}

func BenchmarkBorderDrag(b *testing.B) {
	follow(b, "border", asItIs, func(d *job.Document, i int) { d.Border.Left = 6 + layout.MM(i%50)/2 })
}

func BenchmarkCropDrag(b *testing.B) {
	halve := func(d *job.Document, whole layout.Crop) {
		d.Picture.Crop = d.Picture.Crop.Zoomed(2, whole.W/2, whole.H/2, int(whole.W), int(whole.H))
	}
	follow(b, "crop", halve, func(d *job.Document, i int) { d.Picture.Crop.X = 400 + float64(i%500) })
}

func BenchmarkCropDragOfTheWhole(b *testing.B) {
	shrink := func(d *job.Document, whole layout.Crop) {
		d.Picture.Crop = d.Picture.Crop.Zoomed(1.05, whole.W/2, whole.H/2, int(whole.W), int(whole.H))
	}
	follow(b, "crop", shrink, func(d *job.Document, i int) { d.Picture.Crop.Y = float64(i % 100) })
}
