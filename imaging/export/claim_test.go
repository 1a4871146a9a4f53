package export

import (
	"errors"
	"io/fs"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestOneAloneCreatesAFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sign")
	var made atomic.Int32
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			err := CreateNew(path, []byte("mine"))
			if err == nil {
				made.Add(1)
				return
			}
			if !errors.Is(err, fs.ErrExist) {
				t.Error(err)
			}
		})
	}
	all.Wait()
	require.EqualValues(t, 1, made.Load())
	requireText(t, path, "mine")
	requireFolder(t, dir, "sign")
	requireWriteError(t, CreateNew(filepath.Join(dir, "none", "x"), nil), filepath.Join(dir, "none", "x"))
}

func TestFolderTimeIsTheFoldersOwn(t *testing.T) {
	dir := t.TempDir()
	now, err := FolderTime(dir)
	require.NoError(t, err)
	require.Less(t, time.Since(now).Abs(), time.Minute)
	requireFolder(t, dir)
	_, err = FolderTime(filepath.Join(dir, "none"))
	require.ErrorIs(t, err, fs.ErrNotExist)
}
