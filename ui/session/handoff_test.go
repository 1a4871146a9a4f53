package session_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/ui/session"
)

func TestAWorkshopThatCannotBeIsNotKept(t *testing.T) {
	s := open(t, nil)
	start, err := job.ParseStart("2026-05-01 09:00")
	require.NoError(t, err)
	good := session.Workshop{Workshop: job.Workshop{Start: start, Rates: &export.Rates{Kind: export.RatesKind, Version: export.RatesVersion, Currency: "EUR", Panel: 3}}}
	require.NoError(t, s.SetWorkshop(good))
	good.Rates.Panel = 99
	require.Equal(t, 3.0, s.Workshop().Rates.Panel, "what was given is not shared")
	for name, change := range map[string]func(*session.Workshop){
		"a negative rate":       func(w *session.Workshop) { w.Rates.MachineHour = -1 },
		"rights in two lines":   func(w *session.Workshop) { w.Rights = "mine\nyours" },
		"a can of less than no": func(w *session.Workshop) { w.Can.CoversM2 = -1 },
		"all paint lost":        func(w *session.Workshop) { w.Can.Lost = 1 },
	} {
		w := s.Workshop()
		change(&w)
		require.Error(t, s.SetWorkshop(w), name)
	}
	require.Equal(t, 3.0, s.Workshop().Rates.Panel)
	require.False(t, s.Dirty())
}

// What is foreseen is what is then written, down to the names of the files.
func TestWhatIsForeseenIsWritten(t *testing.T) {
	for name, change := range map[string]func(*job.Document){
		"one raster": func(*job.Document) {},
		"by steps":   func(d *job.Document) { d.Match, d.Setting.Speed = job.MatchSteps, d.Setting.Speed/8 },
	} {
		s := open(t, nil)
		require.NoError(t, s.Edit("match", "", func(d *job.Document) error { change(d); return nil }))
		high := s.Document().Panel.Size.H
		for _, longest := range []bool{false, true} {
			r := job.Request{}
			if longest {
				r.Sections = high / 3
			}
			foreseen, err := s.Foresee(t.Context(), r)
			require.NoError(t, err)
			r.Dir = filepath.Join(t.TempDir(), "out")
			made, err := s.HandOff(t.Context(), r)
			require.NoError(t, err)
			var names []string
			for _, f := range made.Files {
				names = append(names, filepath.Base(f))
			}
			require.Equal(t, names, r.FileNames(foreseen.Note), "%s, sections %v", name, longest)
			require.Equal(t, made.Note.BurnTimeS, foreseen.Note.BurnTimeS)
			require.Equal(t, made.Note.Seams, foreseen.Note.Seams)
		}
	}
}
