package session_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/layout"
	"undercoat/ui/session"
)

// chartOf is a chart of ten powers for a session's job.
func chartOf(t *testing.T, s *session.Session) swatch.Chart {
	t.Helper()
	d := s.Document()
	chart, err := swatch.New(swatch.Request{
		Machine: d.Machine, Stack: &d.Stack, Scrap: layout.Size{W: 120, H: 90}, Margin: 3,
		Powers: []float64{10, 20, 30, 40, 50, 60, 70, 80, 90, 100}, OneBit: true,
		Speeds: []layout.MMPerSecond{1000.0 / 60}, Pitches: []layout.MM{0.1},
	})
	require.NoError(t, err)
	return chart
}

// lookedAt is that chart as an eye sees it that takes the top coat to be through at 35 %.
func lookedAt(t *testing.T, s *session.Session) session.ChartReading {
	t.Helper()
	r := session.ByEye("a scrap", chartOf(t, s), s.Document().Machine)
	coats := s.Document().Stack.Coats
	for i, reading := range r.Readings.Swatches {
		word := coats[0].Name
		if reading.Setting.PowerPercent > 35 {
			word = coats[1].Name
		}
		r.Answer(i, session.Answer{Seen: word})
	}
	return r
}

func TestReadingsByEyeBeginUnseen(t *testing.T) {
	s := open(t, nil)
	r := session.ByEye("a scrap", chartOf(t, s), s.Document().Machine)
	require.NoError(t, r.Readings.Validate())
	require.Zero(t, r.Used())
	require.Equal(t, 1, r.NextUnseen(0))
	require.Equal(t, 0, r.NextUnseen(9))
	require.Equal(t, session.Answer{}, r.Answered(0))

	r.Answer(1, session.Answer{Seen: "ground"})
	require.Equal(t, session.Answer{Seen: "ground"}, r.Answered(1))
	require.Equal(t, 2, r.NextUnseen(0))
	require.Equal(t, 1, r.Used())
	r.Answer(1, session.Answer{Measured: true}) // nothing was measured: it is left out
	require.Zero(t, r.Used())
	require.False(t, r.Unseen(1), "somebody has looked")
	for i := range r.Readings.Swatches {
		r.Answer(i, session.Answer{Seen: "ground"})
	}
	require.Equal(t, -1, r.NextUnseen(3))
	require.NoError(t, r.Readings.Validate())
}

// The job takes over a fitted curve as one step, under a name that tells so.
func TestAFittedCurveIsOneStep(t *testing.T) {
	s := open(t, nil)
	before := s.Document()
	f, err := s.FitCurve(t.Context(), []session.ChartReading{lookedAt(t, s)}, nil)
	require.NoError(t, err)
	require.Equal(t, before, s.Document())
	require.True(t, f.Suits(before))
	require.False(t, f.InUse(before))

	require.NoError(t, s.UseCurve("curve", f))
	now := s.Document()
	require.True(t, now.Stack.Curve.Calibrated)
	require.Equal(t, 10, now.Stack.Curve.Origin.Swatches)
	require.Equal(t, before.Machine.Name, now.Stack.Curve.Origin.Machine)
	require.NotEmpty(t, now.Stack.Curve.Origin.Date)
	require.True(t, f.InUse(now))
	require.True(t, s.Undo())
	require.Equal(t, before, s.Document())

	require.NoError(t, s.Edit("coat", "", func(d *job.Document) (err error) {
		d.Stack, err = d.Stack.WithThickness(0, 44)
		return err
	}))
	require.False(t, f.Suits(s.Document()), "it is another stack now")
}

func TestAFitNeedsReadingsAndStops(t *testing.T) {
	s := open(t, nil)
	_, err := s.FitCurve(t.Context(), nil, nil)
	require.ErrorContains(t, err, "no chart has been read: open a photograph")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = s.FitCurve(ctx, []session.ChartReading{lookedAt(t, s)}, nil)
	require.ErrorIs(t, err, context.Canceled)
}

func TestChartsAndReadingsAreToldApart(t *testing.T) {
	s := open(t, nil)
	dir := t.TempDir()
	write := func(name string, data []byte, err error) string {
		require.NoError(t, err)
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, data, 0o600))
		return path
	}
	chart := chartOf(t, s)
	data, err := chart.JSON()
	c, r, err := session.OpenSwatches(write("chart.json", data, err))
	require.NoError(t, err)
	require.Nil(t, r)
	require.Equal(t, chart.Swatches, c.Swatches)

	readings := lookedAt(t, s).Readings
	data, err = readings.JSON()
	c, r, err = session.OpenSwatches(write("readings.json", data, err))
	require.NoError(t, err)
	require.Nil(t, c)
	require.Equal(t, "readings.json", r.Name)
	require.Equal(t, readings, r.Readings)
	require.Equal(t, session.Answer{Measured: true}, r.Answered(0), "as the file has it")

	for name, text := range map[string]string{
		"other.json": `{"kind":"undercoat-stack"}`, "half.json": `{"kind":"undercoat-readings"`, "no.json": "x",
	} {
		_, _, err = session.OpenSwatches(write(name, []byte(text), nil))
		require.ErrorContains(t, err, name)
	}
	_, _, err = session.OpenSwatches(filepath.Join(dir, "gone.json"))
	require.ErrorContains(t, err, "gone.json")
}
