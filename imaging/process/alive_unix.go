//go:build !windows

package process

import (
	"errors"
	"os"
	"syscall"
)

// alive asks with a signal that does nothing. A process of another user refuses
// even that, and lives.
func alive(pid int) bool {
	if pid <= 0 {
		return false
	}
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	err = p.Signal(syscall.Signal(0))
	return err == nil || errors.Is(err, os.ErrPermission)
}
