//go:build !windows

package export

import (
	"errors"
	"os"
	"syscall"

	"github.com/google/renameio/v2"
)

// newPending opens a file in the hidden folder which will take the place of path, with the
// permissions of the file it replaces, or else those a new file gets.
func newPending(path, hidden string) (pending, error) {
	return renameio.NewPendingFile(path,
		renameio.WithTempDir(hidden),
		renameio.WithPermissions(0o666), // less the umask, as os.Create
		renameio.WithExistingPermissions())
}

// syncFolder makes the names in a folder lasting. File systems that cannot do
// so say "invalid" or "not supported", and there is nothing more to be done.
func syncFolder(dir string) error {
	folder, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = folder.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		err = nil
	}
	return errors.Join(err, folder.Close())
}
