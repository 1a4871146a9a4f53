package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// start runs the program with arguments. Its errors go where its log is watched.
func start(t *testing.T, args ...string) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	return startIn(t, t.TempDir(), args...)
}

// startIn is start with a home of one's own, which outlives the program.
func startIn(t *testing.T, home string, args ...string) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	cmd, said := program(t, home, args...)
	require.NoError(t, cmd.Start())
	return cmd, said
}

// program is the program to be started, with a home of its own. It is killed when the
// test ends.
func program(t *testing.T, home string, args ...string) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self, args...)
	cmd.Env = append(os.Environ(), asProgram+"=yes", "HOME="+home, "XDG_CONFIG_HOME="+home, "XDG_STATE_HOME="+home)
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	t.Cleanup(func() {
		if cmd.Process != nil {
			_ = cmd.Process.Kill()
			_ = cmd.Wait() // its window goes with it, and is not taken for the next one's
		}
	})
	return cmd, &said
}

func TestAPictureGivenToTheProgramIsOpened(t *testing.T) {
	needDisplay(t)
	path := filepath.Join(t.TempDir(), "harbour.png")
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, image.NewGray(image.Rect(0, 0, 320, 240))))
	require.NoError(t, f.Close())

	cmd, said := start(t, path)
	// The window is called after its job, and the job after the picture.
	shown(t, "^harbour .* Undercoat$", said)

	require.NoError(t, cmd.Process.Kill())
	_ = cmd.Wait() // it was killed
	w := &watch{}
	_, _ = w.Write(said.Bytes())
	require.Empty(t, w.found())
}

// shown waits until a window of that name is shown.
func shown(t *testing.T, name string, said *bytes.Buffer) {
	t.Helper()
	_, err := search(time.Minute, "--sync", "--onlyvisible", "--name", name)
	require.NoError(t, err, said)
}

// search looks for windows until limit. The display's windows are asked one by one;
// where one goes meanwhile, as the last test's may, the search fails as a whole and
// is begun again.
func search(limit time.Duration, args ...string) (string, error) {
	ctx, stop := context.WithTimeout(context.Background(), limit)
	defer stop()
	for {
		var out, complaint bytes.Buffer
		cmd := exec.CommandContext(ctx, "xdotool", append([]string{"search"}, args...)...)
		cmd.Stdout, cmd.Stderr = &out, &complaint
		err := cmd.Run()
		switch {
		case err == nil:
			return out.String(), nil
		case ctx.Err() != nil || !strings.Contains(complaint.String(), "BadWindow"):
			return "", fmt.Errorf("%w: %s", err, &complaint)
		}
	}
}

// What was open when the program was killed is offered at the next start, and taken up
// with the keyboard alone.
func TestAKilledProgramsJobIsTakenUpAgain(t *testing.T) {
	needDisplay(t)
	home := t.TempDir()
	path := filepath.Join(home, "pier.png")
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, image.NewGray(image.Rect(0, 0, 320, 240))))
	require.NoError(t, f.Close())

	cmd, said := startIn(t, home, path)
	shown(t, "^pier .* Undercoat$", said)
	kept := func() bool {
		left := 0
		_ = filepath.WalkDir(home, func(p string, d os.DirEntry, err error) error {
			if err == nil && !d.IsDir() && strings.Contains(p, "journal") && strings.HasSuffix(p, ".json") {
				left++
			}
			return nil
		})
		return left > 0
	}
	require.Eventually(t, kept, 30*time.Second, 20*time.Millisecond)
	require.NoError(t, cmd.Process.Kill())
	_ = cmd.Wait() // it was killed

	_, said = startIn(t, home)
	shown(t, "Undercoat$", said)
	for range 20 { // until the question is there to be answered
		out, err := exec.Command("xdotool", "mousemove", "640", "400", "key", "Tab", "key", "Tab", "key", "Tab", "key", "space").CombinedOutput()
		require.NoError(t, err, string(out))
		if _, err := search(2*time.Second, "--sync", "--onlyvisible", "--name", "^pier .* Undercoat$"); err == nil {
			return
		}
	}
	t.Fatalf("the job was not taken up: %s", said)
}

func TestTheProgramEndsWhenAskedTo(t *testing.T) {
	needDisplay(t)
	cmd, said := start(t)
	shown(t, "Undercoat$", said)
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	bound := time.After(time.Minute) // on a broken run
	for {
		// A window that is shown may not listen yet: what is typed too early is typed again.
		out, err := exec.Command("xdotool", "mousemove", "400", "400", "key", "ctrl+q").CombinedOutput()
		require.NoError(t, err, string(out))
		select {
		case err := <-ended:
			require.NoError(t, err, said)
			return
		case <-time.After(2 * time.Second):
		case <-bound:
			require.NoError(t, cmd.Process.Signal(syscall.SIGQUIT)) // it then tells where it stands
			t.Fatalf("it did not end: %v, %s", <-ended, said)
		}
	}
}

func TestTooManyArgumentsAreRefused(t *testing.T) {
	cmd, said := start(t, "one.png", "two.png")
	var ended *exec.ExitError
	require.ErrorAs(t, cmd.Wait(), &ended)
	require.Equal(t, 2, ended.ExitCode())
	require.Contains(t, said.String(), "usage: undercoat [JOB.undercoat | PICTURE]")
}
