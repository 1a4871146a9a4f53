package session_test

import (
	"errors"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
)

// ledger is a journal that notes what is done with it.
type ledger struct {
	path   string
	writes chan *job.Job
	drops  chan string
	err    error
}

func (l ledger) Write(j *job.Job) error { l.writes <- j; return l.err }

func (l ledger) Drop() error { l.drops <- l.path; return nil }

func (l ledger) open(path string) (session.Journal, error) { l.path = path; return l, nil }

func newLedger() ledger {
	return ledger{writes: make(chan *job.Job, 64), drops: make(chan string, 64)}
}

func noFailure(t *testing.T) func(error) { return func(err error) { t.Error(err) } }

func TestChangesAreKeptAndForgottenOnceSaved(t *testing.T) {
	s, l := open(t, nil), newLedger()
	k := s.Keep(l.open, 0, noFailure(t))
	require.NoError(t, setBorder(s, 10, ""))
	kept := awaited(t, l.writes, func(j *job.Job) bool { return j.Document.Border == layout.Even(10) })
	require.NotEmpty(t, kept.Picture)
	require.NoError(t, setBorder(s, 14, ""))
	awaited(t, l.writes, func(j *job.Job) bool { return j.Document.Border == layout.Even(14) })
	require.Empty(t, l.drops)

	path := filepath.Join(t.TempDir(), "a"+job.Extension)
	require.NoError(t, s.Save(path))
	awaited(t, l.drops, func(of string) bool { return of == "" })
	require.NoError(t, setBorder(s, 8, ""))
	awaited(t, l.writes, func(j *job.Job) bool { return j.Document.Border == layout.Even(8) })
	require.NoError(t, k.Close())
	require.Equal(t, path, <-l.drops, "a clean end forgets")
	require.NoError(t, setBorder(s, 9, ""))
	require.NoError(t, k.Close())
	require.Empty(t, l.drops)
}

func TestWhatCannotBeKeptIsTold(t *testing.T) {
	s, l := open(t, nil), newLedger()
	l.err = errors.New("the disk is full")
	told := make(chan error, 64)
	k := s.Keep(l.open, 0, func(err error) { told <- err })
	require.NoError(t, setBorder(s, 10, ""))
	require.ErrorIs(t, <-told, l.err)
	require.NoError(t, k.Close())
}

func TestAJobIsRestored(t *testing.T) {
	s := open(t, nil)
	require.NoError(t, setBorder(s, 11, ""))
	before, _ := s.Job()
	other := open(t, nil)
	pic, err := before.Open(t.Context())
	require.NoError(t, err)
	require.NoError(t, other.Restore(t.Context(), before, pic, "/jobs/harbour.undercoat"))
	require.Equal(t, before.Document, other.Document())
	require.True(t, other.Dirty(), "its file does not hold it")
	require.Equal(t, "/jobs/harbour.undercoat", other.Path())
	require.False(t, other.Undo())
}
