package bench

import (
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// What a refusal may take, as on the command line: all the memory that is asked for
// along the way, given back or not, and a time that leaves room for a busy machine.
const (
	hostileBytes = 128 << 20
	hostileTime  = 10 * time.Second
)

// The pictures and jobs of testdata/hostile, which the command line refuses, are
// refused by the window in the same words.
func TestHostileFilesAreRefusedByTheWindow(t *testing.T) {
	folder := filepath.Join("..", "..", "testdata", "hostile")
	data, err := os.ReadFile(filepath.Join(folder, "cases.json"))
	require.NoError(t, err)
	var cases []struct {
		Name, Says string
		Args       []string
	}
	require.NoError(t, json.Unmarshal(data, &cases))
	d := newDesk(t)
	d.settle()
	before, pic := d.s.Job()
	seen := 0
	for _, c := range cases {
		file, opens := strings.CutPrefix(c.Args[len(c.Args)-1], "{files}/")
		if !opens || c.Args[0] != "new" && c.Args[0] != "check" {
			continue // an entry, a chart or a table, for which the window has other doors
		}
		seen++
		t.Run(c.Name, func(t *testing.T) {
			d.t = t
			d.notice.Hide()
			var start, end runtime.MemStats
			runtime.ReadMemStats(&start)
			begun := time.Now()
			d.OpenPath(filepath.Join(folder, "files", file))
			d.loaded()
			took := time.Since(begun)
			runtime.ReadMemStats(&end)

			text, next := d.notice.Said()
			require.True(t, d.notice.Visible())
			require.Contains(t, strings.ToLower(strings.TrimSuffix(text, ".")+": "+next), strings.ToLower(c.Says))
			require.NotEmpty(t, next, "what to do next")
			now, nowPic := d.s.Job()
			require.Equal(t, before.Document, now.Document, "the job stays as it was")
			require.Same(t, pic, nowPic)
			require.Less(t, took, hostileTime)
			require.Less(t, end.TotalAlloc-start.TotalAlloc, uint64(hostileBytes))
		})
	}
	require.GreaterOrEqual(t, seen, 60)
}
