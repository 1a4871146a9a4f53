package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
)

// manyOrders is a table of tiny orders, with broken ones among them, and the names
// of the broken ones: some with every test, more with make test-batch.
func manyOrders(t *testing.T) (total int, broken []string) {
	t.Helper()
	total, few := 12, 3
	if text := os.Getenv("UNDERCOAT_TEST_ORDERS"); text != "" {
		var err error
		total, err = strconv.Atoi(text)
		require.NoError(t, err)
		few = total / 20
	}
	faults := []string{ // cells of picture, panel, border, power and text
		"none.jpg,20x15mm,1mm,40,", "boat.jpg,20x15mm,1mm,400,", "boat.jpg,20x15mm,90mm,40,", ",20x15mm,1mm,40,", "orders.csv,20x15mm,1mm,40,",
	}
	var table strings.Builder
	table.WriteString("order,picture,panel,border,power,text,pitch\n")
	for i := range total {
		name, cells := fmt.Sprintf("order-%03d", i), fmt.Sprintf("boat.jpg,%dx15mm,1mm,%d,", 20+i%5, 30+i%40)
		switch {
		case i%(total/few) == 3:
			cells = faults[len(broken)%len(faults)]
			broken = append(broken, name)
		case i%7 == 0:
			cells = fmt.Sprintf(",30x12mm,0mm,40,No %d; size=5mm", i)
		}
		fmt.Fprintf(&table, "%s,%s,0.25mm\n", name, cells)
	}
	require.Len(t, broken, few)
	require.NoError(t, os.WriteFile("orders.csv", []byte(table.String()), 0o600))
	return total, broken
}

// batchTree is every file below a folder by its checksum, hidden ones too.
func batchTree(t *testing.T, dir string) map[string]string {
	t.Helper()
	sums := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		if d.IsDir() {
			sums[name] = "a folder"
			return nil
		}
		data, err := os.ReadFile(path)
		sums[name] = job.Checksum(data)
		return err
	}))
	return sums
}

// batchCommand is a process of its own that works on the table: with every test on
// the rasters alone, with make test-batch on all that belongs to an order.
func batchCommand(dir string, more ...string) *exec.Cmd {
	args := append([]string{"batch", "orders.csv", "-o", dir, "--json"}, more...)
	if os.Getenv("UNDERCOAT_TEST_ORDERS") == "" {
		args = append(args, "--only", "raster")
	}
	return exec.Command("undercoat-cli", args...)
}

type batchReport struct {
	Made, Unchanged, Failed int
	Orders                  []struct{ Order, Result, Fault string }
}

// finish waits for a batch that has broken orders in it.
func finish(t *testing.T, cmd *exec.Cmd) batchReport {
	t.Helper()
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	err := cmd.Run()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	require.Equal(t, exitInput, exit.ExitCode(), stderr.String())
	var r batchReport
	require.NoError(t, json.Unmarshal(stdout.Bytes(), &r))
	for _, o := range r.Orders {
		if o.Result == "failed" {
			require.Contains(t, stderr.String(), "order "+o.Order+": "+o.Fault)
		}
	}
	return r
}

func (r batchReport) broken() []string {
	var names []string
	for _, o := range r.Orders {
		if o.Result == "failed" {
			names = append(names, o.Order)
		}
	}
	return names
}

// TestManyOrders works on one table in several ways, which must all end in the
// same bytes: in one go, killed twice and resumed, by four processes at once, and by
// four of which one is killed.
func TestManyOrders(t *testing.T) {
	workshop(t)
	total, broken := manyOrders(t)
	began := time.Now()
	once := finish(t, batchCommand("once"))
	took := time.Since(began)
	require.Equal(t, broken, once.broken())
	require.Equal(t, total-len(broken), once.Made)
	want := batchTree(t, "once")
	summary, err := os.ReadFile(filepath.Join("once", "summary.csv"))
	require.NoError(t, err)
	for _, name := range broken {
		require.Contains(t, string(summary), "\n"+name+",failed,")
	}

	t.Run("killed twice and resumed", func(t *testing.T) {
		for range 2 {
			cmd := batchCommand("killed", "--workers", "2")
			require.NoError(t, cmd.Start())
			<-time.After(took/8 + rand.N(took/3))
			require.NoError(t, cmd.Process.Kill())
			require.Error(t, cmd.Wait())
		}
		r := finish(t, batchCommand("killed", "--workers", "2"))
		require.Equal(t, broken, r.broken())
		require.Equal(t, total-len(broken), r.Made+r.Unchanged)
		t.Logf("after two kills %d orders were done and %d were left", r.Unchanged, r.Made)
		require.Equal(t, want, batchTree(t, "killed"))
	})
	t.Run("four at once", func(t *testing.T) {
		reports := make([]batchReport, 4)
		var all sync.WaitGroup
		for i := range reports {
			all.Go(func() { reports[i] = finish(t, batchCommand("four")) })
		}
		all.Wait()
		made := 0
		for _, r := range reports {
			made += r.Made
			require.Equal(t, broken, r.broken(), "each of the four knows")
			require.Equal(t, total-len(broken), r.Made+r.Unchanged)
		}
		require.Equal(t, total-len(broken), made, "each order once")
		t.Logf("made by the four: %d, %d, %d, %d", reports[0].Made, reports[1].Made, reports[2].Made, reports[3].Made)
		require.Equal(t, want, batchTree(t, "four"))
	})
	t.Run("four, one of them killed", func(t *testing.T) {
		victim := batchCommand("three")
		require.NoError(t, victim.Start())
		reports := make([]batchReport, 3)
		var all sync.WaitGroup
		for i := range reports {
			all.Go(func() { reports[i] = finish(t, batchCommand("three")) })
		}
		<-time.After(rand.N(took / 2))
		require.NoError(t, victim.Process.Kill())
		_ = victim.Wait() // it may have been done by then
		all.Wait()
		for _, r := range reports {
			require.Equal(t, broken, r.broken())
			require.Equal(t, total-len(broken), r.Made+r.Unchanged)
		}
		require.Equal(t, want, batchTree(t, "three"))
	})
}

// The lines that the help shows for spreading work over processors run as they are.
func TestTheHelpSpreadsOrdersOverProcesses(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the lines are for a Unix shell")
	}
	for _, tool := range []string{"xargs", "parallel"} {
		t.Run(tool, func(t *testing.T) {
			if _, err := exec.LookPath(tool); err != nil {
				t.Skipf("there is no %s here", tool)
			}
			workshop(t)
			line := ""
			for l := range strings.Lines(batchHelp) {
				if strings.Contains(l, "| "+tool+" ") {
					line = strings.TrimSpace(l)
				}
			}
			require.NotEmpty(t, line)
			out, err := exec.Command("sh", "-c", line).CombinedOutput()
			require.NoError(t, err, string(out))
			require.FileExists(t, "orders/harbour/raster.png")
			require.FileExists(t, "orders/pier/raster.png")
			require.NoFileExists(t, "orders/summary.csv")
			require.Contains(t, does(t, "batch", "orders.csv", "-o", "orders"), "0 made, 2 unchanged, 0 failed")
			require.FileExists(t, "orders/summary.csv")
		})
	}
}
