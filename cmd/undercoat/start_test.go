package main

import (
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The window is measured from the start of the built program until the screen shows
// it, so many times, and what it takes of a core once it is at rest.
const (
	startsMeasured = 9
	startGoal      = 600 * time.Millisecond // until the first painted window
	idleSpan       = 10 * time.Second
	idleGoal       = 2.0 // percent of a core
)

// TestStart prints how long the built program takes to show itself and what it takes
// while nothing is done: `make bench-start`.
func TestStart(t *testing.T) {
	program := os.Getenv("UNDERCOAT_PROGRAM")
	if program == "" {
		t.Skip("UNDERCOAT_PROGRAM names no program: run make bench-start")
	}
	s := newDisplay(t)
	home := t.TempDir()
	seen := filepath.Join(home, "fyne", appID) // the tour would lie over the bench
	require.NoError(t, os.MkdirAll(seen, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(seen, "preferences.json"), []byte(`{"tour.seen":true}`), 0o666))

	var painted, filled, proved []time.Duration
	idle := 0.0
	for nth := range startsMeasured + 1 {
		began := time.Now()
		stop, cmd := s.start(program, home)
		s.until("the window", func(l look) bool { return l.painted > 0.5 })
		p := time.Since(began)
		s.until("the bench", func(l look) bool { return l.colours > benchColours })
		f := time.Since(began)
		s.until("the proof", func(l look) bool { return l.colours > proofColours })
		q := time.Since(began)
		if nth == 0 { // the first fills the system's caches
			s.rest()
			idle = s.usage(cmd.Process.Pid)
		} else {
			painted, filled, proved = append(painted, p), append(filled, f), append(proved, q)
		}
		stop()
		s.until("an empty screen", func(l look) bool { return l.painted == 0 })
	}
	report := func(what string, all []time.Duration) {
		slices.Sort(all)
		fmt.Printf("%-34s median %4d ms, %d to %d ms in %d runs\n", what, all[len(all)/2].Milliseconds(), all[0].Milliseconds(), all[len(all)-1].Milliseconds(), len(all))
	}
	report(fmt.Sprintf("first painted window (goal %d ms)", startGoal.Milliseconds()), painted)
	report("bench in it", filled)
	report("proof on it", proved)
	fmt.Printf("%-34s %.2f %% of a core over %v\n", fmt.Sprintf("idle (goal %.0f %%)", idleGoal), idle, idleSpan)
}

// How many colours the screen shows tells what stands on it: the bare window has one,
// the bench without its proof some 300, greys, paints and the edges of letters.
const (
	benchColours = 100
	proofColours = 600
)

// display is a screen of the test's own whose memory is a file.
type display struct {
	t      *testing.T
	name   string
	memory *os.File
}

func newDisplay(t *testing.T) *display {
	t.Helper()
	if _, err := exec.LookPath("Xvfb"); err != nil {
		t.Skip("Xvfb is not installed: run make bench-start, which installs it")
	}
	dir := t.TempDir()
	number, told, err := os.Pipe()
	require.NoError(t, err)
	cmd := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1280x800x24", "-fbdir", dir, "-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{told}
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait() // it was killed
	})
	require.NoError(t, told.Close())
	said, err := io.ReadAll(io.LimitReader(number, 16)) // it writes the number and a new line, and closes
	require.NoError(t, err)
	memory, err := os.Open(filepath.Join(dir, "Xvfb_screen0"))
	require.NoError(t, err)
	t.Cleanup(func() { _ = memory.Close() })
	return &display{t, ":" + strings.TrimSpace(string(said)), memory}
}

// start runs the program as nobody's but this test's.
func (s *display) start(program, home string) (stop func(), cmd *exec.Cmd) {
	s.t.Helper()
	cmd = exec.Command(program)
	cmd.Env = append(os.Environ(), "DISPLAY="+s.name, "LIBGL_ALWAYS_SOFTWARE=1", "LANG=en_US.UTF-8",
		"HOME="+home, "XDG_CONFIG_HOME="+home, "XDG_STATE_HOME="+home)
	require.NoError(s.t, cmd.Start())
	stop = func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait() // it was killed
	}
	s.t.Cleanup(stop)
	return stop, cmd
}

// look is what a glance at the screen shows.
type look struct {
	painted float64 // share of it that is not black, as an empty screen is
	colours int
	pixels  string
}

// look reads every eighth row of the screen's memory, an X window dump: big-endian
// words, of which the first is the header's length, the 13th the bytes of a line and
// the 20th the number of colours, of 12 bytes each, that stand before the pixels.
func (s *display) look() look {
	s.t.Helper()
	header := make([]byte, 80)
	_, err := s.memory.ReadAt(header, 0)
	require.NoError(s.t, err)
	word := func(nth int) int { return int(binary.BigEndian.Uint32(header[4*nth:])) }
	first, width, height, line := word(0)+12*word(19), word(4), word(5), word(12)
	row, all, lit, seen := make([]byte, 4*width), strings.Builder{}, 0, map[uint32]bool{}
	for y := 0; y < height; y += 8 {
		_, err := s.memory.ReadAt(row, int64(first+y*line))
		require.NoError(s.t, err)
		all.Write(row)
		for x := 0; x < len(row); x += 4 {
			colour := binary.LittleEndian.Uint32(row[x:]) & 0xffffff
			if colour != 0 {
				lit++
			}
			seen[colour] = true
		}
	}
	return look{float64(lit) / float64(all.Len()/4), len(seen), all.String()}
}

// glances is how often the screen is looked at.
const glances = 4 * time.Millisecond

// until looks at the screen until met is content.
func (s *display) until(what string, met func(look) bool) {
	s.t.Helper()
	ticks := time.NewTicker(glances)
	defer ticks.Stop()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); <-ticks.C { // a bound on a broken run
		if met(s.look()) {
			return
		}
	}
	s.t.Fatalf("%s did not come about: %d colours, %.0f %% painted", what, s.look().colours, 100*s.look().painted)
}

// rest waits until nothing has changed on the screen for three seconds.
func (s *display) rest() {
	s.t.Helper()
	last, since := "", time.Now()
	s.until("rest", func(l look) bool {
		if l.pixels != last {
			last, since = l.pixels, time.Now()
		}
		return time.Since(since) > 3*time.Second
	})
}

// usage is what a process takes of one core over a while, in percent. The kernel
// counts in hundredths of a second.
func (s *display) usage(pid int) float64 {
	s.t.Helper()
	ticks := func() (n int) {
		stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
		require.NoError(s.t, err)
		after := strings.Fields(string(stat[strings.LastIndexByte(string(stat), ')')+1:]))
		for _, field := range after[11:13] { // of user and system time
			v, err := strconv.Atoi(field)
			require.NoError(s.t, err)
			n += v
		}
		return n
	}
	before := ticks()
	<-time.After(idleSpan)
	return float64(ticks()-before) / idleSpan.Seconds()
}
