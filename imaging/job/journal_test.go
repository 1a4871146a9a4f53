package job

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/process"
)

func journalJob(t *testing.T) *Job {
	t.Helper()
	j, _, err := Demo(t.Context())
	require.NoError(t, err)
	return j
}

// crashed lets a journal's process seem to have ended.
func crashed(t *testing.T, n *Journal) {
	t.Helper()
	require.NoError(t, n.lock.Release())
	dead := process.Here()
	dead.PID = ended()
	leaveLock(t, n.dir, dead, 0)
}

func TestAJournalKeepsTheJobThroughACrash(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	left, err := Leftovers()
	require.NoError(t, err)
	require.Empty(t, left)

	n, err := OpenJournal("boats/boat.undercoat")
	require.NoError(t, err)
	j := journalJob(t)
	require.NoError(t, n.Write(j))
	left, err = Leftovers()
	require.NoError(t, err)
	require.Empty(t, left, "the window is open")

	part := filepath.Join(n.dir, partsFolder, j.Document.Picture.SHA256)
	before, err := os.Stat(part)
	require.NoError(t, err)
	j.Document.Name = "changed"
	require.NoError(t, n.Write(j))
	after, err := os.Stat(part)
	require.NoError(t, err)
	require.True(t, os.SameFile(before, after), "the picture is written once")

	bad := *j
	bad.Document.Setting.PowerPercent = 1000
	require.ErrorContains(t, n.Write(&bad), "power_percent")

	crashed(t, n)
	left, err = Leftovers()
	require.NoError(t, err)
	require.Len(t, left, 1)
	whole, err := filepath.Abs("boats/boat.undercoat")
	require.NoError(t, err)
	require.Equal(t, whole, left[0].Of)
	require.Equal(t, "changed", left[0].Name)
	require.False(t, left[0].Saved.IsZero())
	back, err := left[0].Job()
	require.NoError(t, err)
	require.Equal(t, j.Document, back.Document)
	require.Equal(t, j.Picture, back.Picture)

	require.NoError(t, left[0].Drop())
	left, err = Leftovers()
	require.NoError(t, err)
	require.Empty(t, left)
	requireOnly(t, journalFolder())
}

func TestAnotherPictureReplacesTheOneInTheJournal(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	n, err := OpenJournal("")
	require.NoError(t, err)
	j := journalJob(t)
	require.NoError(t, n.Write(j))
	other := *j
	other.Picture = []byte("another")
	other.Document.Picture.SHA256 = Checksum(other.Picture)
	require.NoError(t, n.Write(&other))
	requireOnly(t, filepath.Join(n.dir, partsFolder), other.Document.Picture.SHA256)
	require.NoError(t, n.Drop())
	requireOnly(t, journalFolder())
}

func TestADamagedJournalIsNamed(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	n, err := OpenJournal("")
	require.NoError(t, err)
	j := journalJob(t)
	require.NoError(t, n.Write(j))
	require.NoError(t, os.WriteFile(filepath.Join(n.dir, partsFolder, j.Document.Picture.SHA256), []byte("x"), 0o600))
	crashed(t, n)
	left, err := Leftovers()
	require.NoError(t, err)
	require.Len(t, left, 1)
	_, err = left[0].Job()
	require.ErrorContains(t, err, "the journal is damaged")

	require.NoError(t, os.WriteFile(filepath.Join(n.dir, snapshotName), []byte("{"), 0o600))
	left, err = Leftovers()
	require.NoError(t, err)
	require.Len(t, left, 1, "what cannot be read is shown, for a person to drop")
	_, err = left[0].Job()
	require.Error(t, err)
	require.NoError(t, left[0].Drop())
}

func TestAJournalThatKeptNothingIsCleared(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	n, err := OpenJournal("")
	require.NoError(t, err)
	require.NoError(t, os.Mkdir(n.dir, 0o700))
	crashed(t, n)
	left, err := Leftovers()
	require.NoError(t, err)
	require.Empty(t, left)
	requireOnly(t, journalFolder())
}
