//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// builtProgram is the program as people run it: the tests' own has no signals.
func builtProgram(t *testing.T) string {
	t.Helper()
	if _, err := exec.LookPath("go"); err != nil {
		t.Skip("there is no go command here to build the program with")
	}
	program := filepath.Join(t.TempDir(), "undercoat-cli")
	build := exec.Command("go", "build", "-buildvcs=false", "-o", program, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	out, err := build.CombinedOutput()
	require.NoError(t, err, string(out))
	return program
}

// TestInterruptLeavesNothing starts the program as people do, on a raster of 45
// million dots, and stops it as they do once it has begun to write.
func TestInterruptLeavesNothing(t *testing.T) {
	program := builtProgram(t)
	workshop(t)
	does(t, "new", "-o", "boat.undercoat", "--picture", "boat.jpg", "--panel", "300x400mm", "--pitch", "0.05mm")

	for name, signal := range map[string]os.Signal{"interrupt": os.Interrupt, "terminate": syscall.SIGTERM} {
		t.Run(name, func(t *testing.T) {
			cmd := exec.Command(program, "prepare", "boat.undercoat", "-o", "of/boat", "--json")
			var stdout, stderr bytes.Buffer
			cmd.Stdout, cmd.Stderr = &stdout, &stderr
			require.NoError(t, cmd.Start())
			defer func() { _ = cmd.Process.Kill() }() // does nothing once it has ended
			began := func() bool {
				hidden, _ := filepath.Glob("of/boat/.*")
				return len(hidden) > 0
			}
			require.Eventually(t, began, time.Minute, 2*time.Millisecond)
			require.NoError(t, cmd.Process.Signal(signal))
			asked := time.Now()
			err := cmd.Wait()
			took := time.Since(asked)

			var exit *exec.ExitError
			require.ErrorAs(t, err, &exit, stdout.String())
			require.Equal(t, exitInterrupted, exit.ExitCode(), stderr.String())
			require.Equal(t, "undercoat-cli: interrupted, nothing was written\n", stderr.String())
			require.Empty(t, stdout.String())
			require.NoDirExists(t, "of", "no file and no folder")
			require.Less(t, took, 2*time.Second, "100 ms are meant, the rest is room for a busy machine")
			t.Logf("ended %v after the signal", took.Round(time.Millisecond))
		})
	}
}
