package job

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/process"
)

var ended = sync.OnceValue(func() int {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	if err := cmd.Run(); err != nil {
		panic(err)
	}
	return cmd.Process.Pid
})

// leaveLock writes a lock as another process would, last touched so long ago.
func leaveLock(t *testing.T, path string, mark process.Mark, ago time.Duration) {
	t.Helper()
	data, err := json.Marshal(lockMark{Mark: mark, Token: process.Token(), Since: time.Now().Add(-ago)})
	require.NoError(t, err)
	leaveFile(t, lockPath(path), data, ago)
}

func leaveFile(t *testing.T, path string, data []byte, ago time.Duration) {
	t.Helper()
	require.NoError(t, os.WriteFile(path, data, 0o600))
	at := time.Now().Add(-ago)
	require.NoError(t, os.Chtimes(path, at, at))
}

func requireOnly(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	require.ElementsMatch(t, names, got)
}

func TestTwoWindowsCannotHaveOneJob(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "boat.undercoat")
	l, err := LockFile(path)
	require.NoError(t, err)
	require.True(t, l.Held())
	requireOnly(t, dir, ".boat.undercoat.lock")

	_, err = LockFile(path)
	var locked *LockedError
	require.ErrorAs(t, err, &locked)
	require.Equal(t, os.Getpid(), locked.Process)
	require.Contains(t, err.Error(), "boat.undercoat is in use by process")
	other, err := LockFile(filepath.Join(dir, "other.undercoat"))
	require.NoError(t, err)
	require.NoError(t, other.Release())

	require.NoError(t, l.Release())
	require.NoError(t, l.Release())
	require.False(t, l.Held())
	requireOnly(t, dir)
	l, err = LockFile(path)
	require.NoError(t, err)
	require.NoError(t, l.Release())
}

func TestALockOfTheDeadIsTakenOver(t *testing.T) {
	here, dead := process.Here(), process.Here()
	dead.PID = ended()
	elsewhere := process.Mark{PID: 1, Host: "workshop", Place: "0badcafe"}
	for _, c := range []struct {
		name  string
		mark  process.Mark
		ago   time.Duration
		taken bool
	}{
		{"ended here just now", dead, 0, true},
		{"lives here", here, 0, false},
		{"its number lives here, but nobody touches it", here, 2 * time.Minute, true},
		{"elsewhere, touched just now", elsewhere, 30 * time.Second, false},
		{"elsewhere, let alone", elsewhere, 2 * time.Minute, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "boat.undercoat")
			leaveLock(t, path, c.mark, c.ago)
			l, err := LockFile(path)
			if !c.taken {
				require.ErrorContains(t, err, "is in use by process")
				require.ErrorContains(t, err, c.mark.Host)
				requireOnly(t, dir, ".boat.undercoat.lock")
				return
			}
			require.NoError(t, err)
			require.True(t, l.Held())
			requireOnly(t, dir, ".boat.undercoat.lock")
			require.NoError(t, l.Release())
			requireOnly(t, dir)
		})
	}
}

func TestABrokenLockGoesByItsAge(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "boat.undercoat")
	leaveFile(t, lockPath(path), nil, 0)
	_, err := LockFile(path)
	require.ErrorContains(t, err, "is in use")
	leaveFile(t, lockPath(path), []byte("la la"), 2*time.Minute)
	l, err := LockFile(path)
	require.NoError(t, err)
	require.NoError(t, l.Release())
}

// However many find the same dead lock at once, one alone gets it.
func TestOneAloneTakesOver(t *testing.T) {
	dead := process.Here()
	dead.PID = ended()
	for range 20 {
		path := filepath.Join(t.TempDir(), "boat.undercoat")
		leaveLock(t, path, dead, 0)
		var got atomic.Int32
		var all sync.WaitGroup
		for range 8 {
			all.Go(func() {
				l, err := LockFile(path)
				var locked *LockedError
				switch {
				case err == nil && l.Held():
					got.Add(1)
				case err == nil:
					t.Error("a lock was given that is not held")
				case !errors.As(err, &locked):
					t.Error(err)
				}
			})
		}
		all.Wait()
		require.LessOrEqual(t, got.Load(), int32(1), "never two")
		if got.Load() == 0 { // all of them thought another was quicker: the next asks in vain for nobody
			l, err := LockFile(path)
			require.NoError(t, err)
			require.NoError(t, l.Release())
		}
	}
}

func TestALockOfTheDeadIsCleared(t *testing.T) {
	dead := process.Here()
	dead.PID = ended()
	dir := t.TempDir()
	path := filepath.Join(dir, "boat.undercoat")
	require.NoError(t, ClearLock(path))
	leaveLock(t, path, dead, 0)
	require.NoError(t, ClearLock(path))
	requireOnly(t, dir)
	leaveLock(t, path, process.Here(), 0)
	require.NoError(t, ClearLock(path))
	requireOnly(t, dir, ".boat.undercoat.lock")
}

func TestAGuardOfTheDeadIsNoHindrance(t *testing.T) {
	dead := process.Here()
	dead.PID = ended()
	dir := t.TempDir()
	path := filepath.Join(dir, "boat.undercoat")
	leaveLock(t, path, dead, 0)
	data, err := os.ReadFile(lockPath(path))
	require.NoError(t, err)
	leaveFile(t, lockPath(path)+"-taking", data, 0)
	l, err := LockFile(path)
	require.NoError(t, err)
	require.NoError(t, l.Release())
	requireOnly(t, dir)
}

func TestAHolderLearnsThatItsLockIsLost(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "boat.undercoat")
		l, err := LockFile(path)
		require.NoError(t, err)
		long := time.Unix(1, 0)
		require.NoError(t, os.Chtimes(lockPath(path), long, long))
		time.Sleep(lockBeat + time.Millisecond) // of the bubble's own clock
		synctest.Wait()
		info, err := os.Stat(lockPath(path))
		require.NoError(t, err)
		require.NotEqual(t, long, info.ModTime(), "touched")
		require.True(t, l.Held(), "and unchanged")

		leaveLock(t, path, process.Mark{PID: 1, Host: "workshop", Place: "0badcafe"}, 0)
		time.Sleep(lockBeat)
		synctest.Wait()
		select {
		case <-l.Lost():
		default:
			t.Error("the loss was not told")
		}
		require.False(t, l.Held())
		require.NoError(t, l.Release())
		require.FileExists(t, lockPath(path), "the other's lock stays")
	})
}

func TestAFolderThatIsNotThereTakesNoLock(t *testing.T) {
	_, err := LockFile(filepath.Join(t.TempDir(), "none", "boat.undercoat"))
	var write *export.WriteError
	require.ErrorAs(t, err, &write)
	require.ErrorIs(t, err, fs.ErrNotExist)
}
