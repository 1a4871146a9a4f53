//go:build windows

package process

import (
	"errors"
	"syscall"
)

// alive opens the process and asks for its exit code, which it has not while it
// runs. A process of another user refuses that, and lives.
func alive(pid int) bool {
	if pid <= 0 {
		return false
	}
	const queryLimited, stillActive = 0x1000, 259
	h, err := syscall.OpenProcess(queryLimited, false, uint32(pid))
	if err != nil {
		return errors.Is(err, syscall.ERROR_ACCESS_DENIED)
	}
	defer syscall.CloseHandle(h)
	var code uint32
	return syscall.GetExitCodeProcess(h, &code) != nil || code == stillActive
}
