//go:build unix

package main

import (
	"errors"
	"os"
	"os/exec"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// TestASecondInterruptEndsAtOnce holds the program where it cannot stop by itself,
// at an input that never ends, and interrupts it until it is gone.
func TestASecondInterruptEndsAtOnce(t *testing.T) {
	program := builtProgram(t)
	cmd := exec.Command(program, "check", "-")
	input, err := cmd.StdinPipe()
	require.NoError(t, err)
	defer input.Close()
	require.NoError(t, cmd.Start())
	defer func() { _ = cmd.Process.Kill() }()
	_, err = input.Write(make([]byte, 1<<20)) // more than a pipe holds: it reads
	require.NoError(t, err)

	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	sent := 0
	require.Eventually(t, func() bool {
		select {
		case err = <-ended:
			return true
		default:
			if errors.Is(cmd.Process.Signal(os.Interrupt), os.ErrProcessDone) {
				return false
			}
			sent++
			return false
		}
	}, time.Minute, 20*time.Millisecond)
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	require.Equal(t, syscall.SIGINT, exit.Sys().(syscall.WaitStatus).Signal(), "ended by the system, not by itself")
	require.GreaterOrEqual(t, sent, 2, "the first one only asks it to stop")
}
