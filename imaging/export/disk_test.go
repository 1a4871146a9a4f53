package export

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

// mounted mounts a file system in memory, with options, or skips the test.
func mounted(t *testing.T, options string) string {
	t.Helper()
	if runtime.GOOS != "linux" || os.Geteuid() != 0 {
		t.Skip("needs to mount a disk: for an administrator on Linux only")
	}
	dir := filepath.Join(t.TempDir(), "disk")
	require.NoError(t, os.Mkdir(dir, 0o755))
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", options, "undercoat-test", dir).CombinedOutput(); err != nil {
		t.Skipf("a disk cannot be mounted here: %v: %s", err, out)
	}
	t.Cleanup(func() { require.NoError(t, exec.Command("umount", dir).Run()) })
	return dir
}

// smallDisk is a disk of 256 KiB.
func smallDisk(t *testing.T) string { return mounted(t, "size=256k") }

// readOnlyDisk is a disk with a file a.txt on it, which says "old", and which is
// then closed to everybody.
func readOnlyDisk(t *testing.T) string {
	dir := mounted(t, "size=256k")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a.txt"), []byte("old"), 0o600))
	if out, err := exec.Command("mount", "-o", "remount,ro", dir).CombinedOutput(); err != nil {
		t.Skipf("a disk cannot be closed here: %v: %s", err, out)
	}
	return dir
}
