package session_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/layout"
	"undercoat/ui/session"
)

// awaited takes from a channel until something is as wanted; the time is only a bound
// on a broken run.
func awaited[T any](t *testing.T, from <-chan T, wanted func(T) bool) T {
	t.Helper()
	for end := time.After(time.Minute); ; {
		select {
		case v := <-from:
			if wanted(v) {
				return v
			}
		case <-end:
			t.Fatal("it did not come")
		}
	}
}

// openTelling is a session on a small job that tells of doses and cores.
func openTelling(t *testing.T) (*session.Session, <-chan session.Depths, <-chan []session.Core) {
	t.Helper()
	quiet := open(t, nil)
	j, pic := quiet.Job()
	depths, cores := make(chan session.Depths, 256), make(chan []session.Core, 256)
	s := session.New(j, pic, session.Options{
		Render: func(session.Picture) {},
		Depths: func(d session.Depths) { depths <- d },
		Cores:  func(c []session.Core) { cores <- c },
	})
	t.Cleanup(s.Close)
	s.Show(ownFrame)
	return s, depths, cores
}

func ofNow(s *session.Session) func(session.Depths) bool {
	return func(d session.Depths) bool { return d.Generation == s.Generation() }
}

func TestDosesFollowThePower(t *testing.T) {
	s, depths, _ := openTelling(t)
	first := awaited(t, depths, ofNow(s))
	require.NoError(t, first.Err)
	sum := 0.0
	for _, share := range first.Shares {
		sum += share
	}
	require.InDelta(t, 1, sum, 1e-5)
	plan, err := s.Plan()
	require.NoError(t, err)
	require.InDelta(t, plan.DoseJCM2, first.Full.DoseJCM2, 1e-9)

	require.NoError(t, setPower(s, 25))
	second := awaited(t, depths, ofNow(s))
	require.Same(t, first.Ribbon, second.Ribbon, "the ribbon goes over all powers")
	require.Less(t, second.Full.DoseJCM2, first.Full.DoseJCM2)
	require.NotEqual(t, first.Shares, second.Shares)

	edit(t, s, func(d *job.Document) { d.Stack.Coats[0].ThicknessUM *= 1.5 })
	third := awaited(t, depths, ofNow(s))
	require.NotSame(t, second.Ribbon, third.Ribbon)
	require.Greater(t, third.Ribbon.Breaks[0].DoseJCM2, second.Ribbon.Breaks[0].DoseJCM2)
}

func TestCoresAreCutWherePointedAt(t *testing.T) {
	s, _, cores := openTelling(t)
	inside, border := layout.Point{X: 9.13, Y: -11.27}, layout.Point{X: 29.5, Y: 0}
	s.Probe(false, inside, border)
	got := awaited(t, cores, func(c []session.Core) bool { return len(c) == 2 })
	require.NoError(t, got[0].Err)
	require.Equal(t, inside, got[0].At)
	require.False(t, got[0].Exact)
	require.Positive(t, got[0].Cut.DoseJCM2)
	require.Zero(t, got[1].Cut.DoseJCM2, "the border stays untouched")
	require.Equal(t, 1.0, got[1].Cut.Coats[0].Shows)

	s.Probe(true, inside)
	got = awaited(t, cores, func(c []session.Core) bool { return len(c) == 1 && c[0].Exact })
	j, pic := s.Job()
	developed, err := j.Develop(t.Context(), pic)
	require.NoError(t, err)
	pl, err := j.Document.Placement()
	require.NoError(t, err)
	raster, err := developed.Raster(t.Context(), pl)
	require.NoError(t, err)
	src, recipe, err := raster.Burning(j.Document.Recipe())
	require.NoError(t, err)
	x := float64(inside.X-pl.Corners[0].X) / float64(pl.Grid.Pitch)
	y := float64(pl.Corners[0].Y-inside.Y) / float64(pl.Grid.Pitch)
	want, err := proof.CoreAt(t.Context(), recipe, src, x, y)
	require.NoError(t, err)
	require.Equal(t, want, got[0].Cut)
}

func TestCoresFollowTheJob(t *testing.T) {
	s, _, cores := openTelling(t)
	at := layout.Point{X: 20, Y: 20}
	s.Probe(false, at)
	before := awaited(t, cores, func(c []session.Core) bool { return len(c) == 1 })[0].Cut.DoseJCM2
	edit(t, s, func(d *job.Document) { d.Setting.Passes *= 2 })
	awaited(t, cores, func(c []session.Core) bool { return len(c) == 1 && c[0].Cut.DoseJCM2 > before*1.05 })
}

func TestTheStripFollowsThePower(t *testing.T) {
	s := open(t, nil)
	for now, want := range map[float64][]float64{
		40:  {26, 32.8, 40, 48.8, 60},
		95:  {47.5, 61.8, 76, 85.5, 95},
		100: {50, 65, 80, 90, 100},
		0.1: {0.1, 0.1, 0.1, 0.1, 0.2},
	} {
		d := s.Document()
		d.Setting.PowerPercent = now
		require.Equal(t, want, session.StripPowers(d))
	}
	powers := session.StripPowers(s.Document())
	strip, err := s.PowerStrip(t.Context(), powers, 90)
	require.NoError(t, err)
	require.Len(t, strip, 5)
	for i, step := range strip {
		require.Equal(t, powers[i], step.PowerPercent)
		require.Equal(t, 90, max(step.Image.Rect.Dx(), step.Image.Rect.Dy()))
	}
	require.Greater(t, strip[4].DoseJCM2, strip[0].DoseJCM2)
}

func TestCoatMapsAddUpToTheStrip(t *testing.T) {
	s := open(t, nil)
	maps, err := s.CoatMaps(t.Context(), 90)
	require.NoError(t, err)
	strip, err := s.PowerStrip(t.Context(), []float64{s.Document().Setting.PowerPercent}, 90)
	require.NoError(t, err)
	for i, m := range maps {
		require.InDelta(t, strip[0].Coverage[i], m.Share, 1e-9, m.Name)
	}

	edit(t, s, func(d *job.Document) { d.Match = job.MatchSteps })
	_, err = s.CoatMaps(t.Context(), 90)
	require.ErrorContains(t, err, "matched by colour")
	_, err = s.PowerStrip(t.Context(), []float64{20}, 90)
	require.ErrorContains(t, err, "match it by lightness")
}

// What a small view tells of the doses of a picture matched by colour is what its own
// raster gets.
func TestDosesOfAPictureMatchedByColour(t *testing.T) {
	for _, match := range []job.Match{job.MatchSteps, job.MatchNestedSteps, job.MatchPower} {
		t.Run(string(match), func(t *testing.T) {
			s, depths, _ := openTelling(t)
			edit(t, s, func(d *job.Document) {
				d.Machine.PowerPerPixel = true
				d.Setting.PowerPercent, d.Setting.Pitch, d.Setting.Speed = 100, 0.2, 10
				d.Match = match
			})
			told := awaited(t, depths, ofNow(s))
			require.NoError(t, told.Err)
			require.Equal(t, match == job.MatchPower, len(told.Steps) == 0)
			require.IsIncreasing(t, append([]float64{0, 0.1}, told.Steps...))
			want := rasterDoses(t, s, told.Ribbon.FullJCM2, len(told.Shares)/coarse)
			off, sum := 0.0, 0.0
			for i := range want {
				got := 0.0
				for _, share := range told.Shares[coarse*i : coarse*(i+1)] {
					got += share
				}
				sum += got
				off += math.Abs(got-want[i]) / 2
			}
			require.InDelta(t, 1, sum, 1e-9)
			t.Logf("%.3f of the area lies elsewhere", off)
			require.Less(t, off, 0.05, "of the area lies elsewhere")
		})
	}
}

const coarse = 5 // bins of the ribbon in one that is compared

// rasterDoses are the shares of the job's own raster that get each dose.
func rasterDoses(t *testing.T, s *session.Session, fullJCM2 float64, bins int) []float64 {
	t.Helper()
	j, pic := s.Job()
	developed, err := j.Develop(t.Context(), pic)
	require.NoError(t, err)
	pl, err := j.Document.Placement()
	require.NoError(t, err)
	raster, err := developed.Raster(t.Context(), pl)
	require.NoError(t, err)
	src, recipe, err := raster.Burning(j.Document.Recipe())
	require.NoError(t, err)
	shares, err := proof.ExposedShares(t.Context(), recipe, src, fullJCM2, bins)
	require.NoError(t, err)
	return shares
}
