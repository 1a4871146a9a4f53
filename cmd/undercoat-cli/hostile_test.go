package main

import (
	"bytes"
	"encoding/json"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/require"
)

// hostileCase is one of testdata/hostile/cases.json: a command line that must be
// refused, and what must be said.
type hostileCase struct {
	Name string
	Exit int
	Says string
	Args []string
}

// What a refusal may take. The memory is all that is asked for along the way, given
// back or not; the time leaves room for a busy machine.
const (
	hostileBytes = 128 << 20
	hostileTime  = 10 * time.Second
)

// TestHostile hands the command line files and settings that are damaged, absurd or
// ill-meant.
func TestHostile(t *testing.T) {
	folder := filepath.Join("..", "..", "testdata", "hostile")
	data, err := os.ReadFile(filepath.Join(folder, "cases.json"))
	require.NoError(t, err)
	var cases []hostileCase
	require.NoError(t, json.Unmarshal(data, &cases))
	require.Greater(t, len(cases), 60)
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			out := t.TempDir()
			args := make([]string, len(c.Args))
			for i, a := range c.Args {
				args[i] = strings.NewReplacer("{files}", filepath.Join(folder, "files"), "{out}", out).Replace(a)
			}
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			begun := time.Now()
			var stderr bytes.Buffer
			code := run(t.Context(), args, io.Discard, &stderr)
			took := time.Since(begun)
			runtime.ReadMemStats(&after)

			said := stderr.String()
			require.Equal(t, c.Exit, code, said)
			require.Contains(t, said, c.Says)
			plainRefusal(t, said)
			require.Empty(t, filesBelow(t, out), "nothing is written")
			require.Less(t, took, hostileTime)
			require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(hostileBytes))
		})
	}
}

// plainRefusal is a sentence for people that tells what to do next.
func plainRefusal(t *testing.T, said string) {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(said), "\n")
	last := lines[len(lines)-1]
	require.LessOrEqual(t, len(lines), 2, said)
	require.True(t, strings.HasPrefix(last, "undercoat-cli: "), said)
	require.Regexp(t, `: |, (write|choose|give)`, strings.TrimPrefix(last, "undercoat-cli: "), "it leads on")
	require.False(t, strings.HasSuffix(last, "."), said)
	require.Less(t, len(last), 1000)
	require.NotRegexp(t, "panic|goroutine|runtime error|nil pointer", said)
	for _, r := range said {
		require.True(t, r == '\n' || unicode.IsPrint(r), "%q is not to be printed", r)
	}
}

func filesBelow(t *testing.T, dir string) (names []string) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, path)
		}
		return err
	}))
	return names
}
