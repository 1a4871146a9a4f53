package session_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/ui/session"
)

// What lay on the desk lies there again at the next start, the answers with it.
func TestTheDeskKeepsChartsBetweenStarts(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	s := open(t, nil)
	chart := chartOf(t, s)
	desk, err := session.OpenDesk(noFailure(t))
	require.NoError(t, err)
	empty, err := desk.Swatches()
	require.NoError(t, err)
	require.Equal(t, session.Swatches{}, empty)

	on := session.Swatches{Chart: &chart, ChartName: "chart.json", Readings: []session.ChartReading{lookedAt(t, s)}}
	desk.Keep(on)
	on.Readings[0].Answer(2, session.Answer{})
	desk.Keep(on) // the last word holds, whichever was written in between
	want := on.Clone()
	on.Readings[0].Answer(3, session.Answer{}) // said after it was kept
	require.NoError(t, desk.Close())

	desk, err = session.OpenDesk(noFailure(t))
	require.NoError(t, err)
	back, err := desk.Swatches()
	require.NoError(t, err)
	require.Equal(t, want, back)
	require.Equal(t, len(chart.Swatches)-1, back.Readings[0].Used())
	desk.Keep(session.Swatches{})
	require.NoError(t, desk.Close())

	desk, err = session.OpenDesk(noFailure(t))
	require.NoError(t, err)
	back, err = desk.Swatches()
	require.NoError(t, err)
	require.Empty(t, back.Readings)
	require.NoError(t, desk.Close())
}

func TestOneWindowHasTheDesk(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	first, err := session.OpenDesk(noFailure(t))
	require.NoError(t, err)
	_, err = session.OpenDesk(noFailure(t))
	var locked *job.LockedError
	require.True(t, errors.As(err, &locked), "%v", err)
	require.NoError(t, first.Close())
	second, err := session.OpenDesk(noFailure(t))
	require.NoError(t, err)
	require.NoError(t, second.Close())
}

// A file that cannot be read is told of and stands in nobody's way.
func TestADamagedDeskIsToldOf(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", dir)
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "undercoat"), 0o700))
	file := filepath.Join(dir, "undercoat", "swatches.json")
	for name, data := range map[string]string{
		"cut short": `{"kind":"undercoat-desk","ver`, "of another kind": `{"kind":"undercoat-panel","version":1,"charts":[]}`,
		"of a later version": `{"kind":"undercoat-desk","version":9,"charts":[]}`, "with a field too many": `{"kind":"undercoat-desk","version":1,"charts":[],"more":1}`,
		"with bad readings": `{"kind":"undercoat-desk","version":1,"charts":[{"name":"x","readings":{"kind":"undercoat-readings","version":1,"swatches":[]}}]}`,
		"with a bad chart":  `{"kind":"undercoat-desk","version":1,"chart":{"kind":"undercoat-chart"},"charts":[]}`,
	} {
		t.Run(name, func(t *testing.T) {
			require.NoError(t, os.WriteFile(file, []byte(data), 0o600))
			desk, err := session.OpenDesk(noFailure(t))
			require.NoError(t, err)
			on, err := desk.Swatches()
			require.ErrorContains(t, err, "read them anew")
			require.Empty(t, on)
			require.NoError(t, desk.Close())
		})
	}
}
