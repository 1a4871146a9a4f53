package main

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// outward is a line of a trace in which a socket to other computers is asked for.
var outward = regexp.MustCompile(`(?m)^.*AF_INET6?\b.*$`)

// traced puts a command under strace, which tells what sockets are asked for. What it
// told is complete once the command was waited for: the tracer holds the end of the
// pipe that its errors go to.
func traced(t *testing.T, cmd *exec.Cmd) (told func() string) {
	t.Helper()
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("strace is not installed: run the tests by make test, which installs it")
	}
	if out, err := exec.Command(strace, "-o", os.DevNull, "true").CombinedOutput(); err != nil {
		t.Skipf("programs may not be traced here: %s", out)
	}
	trace := filepath.Join(t.TempDir(), "trace")
	// -D: the command keeps its own process, and the tracer goes when it ends.
	cmd.Args = append([]string{"strace", "-D", "-f", "-qq", "-e", "trace=socket,connect", "-e", "signal=none", "-o", trace}, cmd.Args...)
	cmd.Path = strace
	if cmd.Stderr == nil {
		cmd.Stderr = new(bytes.Buffer)
	}
	return func() string {
		text, err := os.ReadFile(trace)
		require.NoError(t, err)
		return string(text)
	}
}

func TestTheWindowOpensNoConnection(t *testing.T) {
	needDisplay(t)
	path := filepath.Join(t.TempDir(), "harbour.png")
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, image.NewGray(image.Rect(0, 0, 320, 240))))
	require.NoError(t, f.Close())

	cmd, said := program(t, t.TempDir(), path)
	told := traced(t, cmd)
	require.NoError(t, cmd.Start())
	shown(t, "^harbour .* Undercoat$", said)
	require.NoError(t, cmd.Process.Kill())
	_ = cmd.Wait() // it was killed
	sockets := told()
	require.Contains(t, sockets, "AF_UNIX", "its display's is seen")
	require.Empty(t, outward.FindAllString(sockets, -1))
}

func TestConnectionsAreSeen(t *testing.T) {
	cmd := exec.Command("bash", "-c", "exec 3<>/dev/tcp/127.0.0.1/9")
	told := traced(t, cmd)
	_ = cmd.Run() // nobody listens there
	require.NotEmpty(t, outward.FindAllString(told(), -1))
}
