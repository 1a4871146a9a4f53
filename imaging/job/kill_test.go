package job_test

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
)

// killedRole names, in the environment, the work that a process of this test's
// own does over and over until it is killed: a word, and where to.
const killedRole = "UNDERCOAT_TEST_KILLED"

// kills is how many times each work is killed: a few with every test, more with
// make test-kill.
func kills(t *testing.T) int {
	t.Helper()
	text := os.Getenv("UNDERCOAT_TEST_KILLS")
	if text == "" {
		return 4
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}

// killJob is one of the two jobs that take turns.
func killJob(i int) (*job.Job, error) {
	stack, err := job.FindStack("")
	if err != nil {
		return nil, err
	}
	machine, err := job.FindMachine("")
	if err != nil {
		return nil, err
	}
	d := job.Blank(stack, machine)
	d.Name = "same"
	d.Panel.Size = layout.Size{W: 40, H: layout.MM(30 + 5*i)}
	d.Border, d.Setting.Pitch = layout.Border{}, 0.2
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "goldens", "dunes.jpg"))
	if err != nil {
		return nil, err
	}
	j, _, err := job.New(context.Background(), d, "dunes.jpg", data)
	return j, err
}

// workUntilKilled does what a process of the test is for. It ends only by a fault.
func workUntilKilled(role string) {
	word, at, _ := strings.Cut(role, ":")
	var jobs [2]*job.Job
	for i := range jobs {
		j, err := killJob(i)
		if err != nil {
			panic(err)
		}
		jobs[i] = j
	}
	fmt.Println("ready")
	for i := rand.IntN(2); ; i++ {
		var err error
		switch word {
		case "save":
			err = jobs[i%2].Save(at, true)
		case "prepare":
			_, err = job.Prepare(context.Background(), jobs[i%2], job.Request{Dir: at, Force: true, KeepJob: true})
		case "set":
			_, err = export.WriteSet(at, killSet(i%2), true)
		}
		if err != nil {
			panic(err)
		}
	}
}

// killSet is one of two sets of files that take turns.
func killSet(i int) []export.Content {
	text := func(w io.Writer) error {
		_, err := io.WriteString(w, strings.Repeat(strconv.Itoa(i), 50_000))
		return err
	}
	return []export.Content{{Name: "a", Write: text}, {Name: "b", Write: text}, {Name: "c", Write: text}, {Name: "d", Write: text}}
}

// killAtRandom starts the work and kills it within a span of time.
func killAtRandom(t *testing.T, role string, within time.Duration) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), killedRole+"="+role)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err, "the work did not begin")
	require.Equal(t, "ready\n", line)
	<-time.After(rand.N(within))
	require.NoError(t, cmd.Process.Kill())
	require.ErrorContains(t, cmd.Wait(), "killed")
}

// hiddenIn counts the hidden folders that a kill has left, and those in which a
// commit was on record.
func hiddenIn(t *testing.T, dir string) (left, recorded int) {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(dir, ".*"))
	require.NoError(t, err)
	records, err := filepath.Glob(filepath.Join(dir, ".*", "record.json"))
	require.NoError(t, err)
	return len(found), len(records)
}

func TestAJobThatIsKilledWhileItIsSavedIsOldOrNew(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "boat.undercoat")
	var want [2][]byte
	for i := range want {
		j, err := killJob(i)
		require.NoError(t, err)
		want[i] = written(t, j)
		require.NoError(t, j.Save(path, true))
	}
	next, err := killJob(0)
	require.NoError(t, err)
	caught := 0
	for range kills(t) {
		killAtRandom(t, "save:"+path, 40*time.Millisecond)
		left, _ := hiddenIn(t, dir)
		caught += min(left, 1)
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		require.True(t, bytes.Equal(got, want[0]) || bytes.Equal(got, want[1]), "neither the old job nor the new one")
		_, err = job.Read(path)
		require.NoError(t, err)

		require.NoError(t, next.Save(path, true))
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.Len(t, entries, 1, "the next save leaves nothing but the job")
	}
	t.Logf("killed %d times, %d of them within a save", kills(t), caught)
}

func TestAHandoffThatIsKilledIsOldOrNew(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "out")
	var want [2]map[string]string
	for i := range want {
		j, err := killJob(i)
		require.NoError(t, err)
		_, err = job.Prepare(t.Context(), j, job.Request{Dir: dir, Force: true, KeepJob: true})
		require.NoError(t, err)
		want[i] = filesIn(t, dir)
		require.Contains(t, want[i], "same.undercoat")
	}
	killAndLook(t, "prepare:"+dir, dir, 600*time.Millisecond, want)
}

// The same for files that are there at once, so that most kills fall into the
// moments in which they take their places.
func TestASetThatIsKilledIsOldOrNew(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	var want [2]map[string]string
	for i := range want {
		_, err := export.WriteSet(dir, killSet(i), true)
		require.NoError(t, err)
		want[i] = filesIn(t, dir)
	}
	killAndLook(t, "set:"+dir, dir, 30*time.Millisecond, want)
}

// killAndLook kills the work again and again and wants the one or the other in the
// folder: each file at once, all of them when the next write begins.
func killAndLook(t *testing.T, role, dir string, within time.Duration, want [2]map[string]string) {
	t.Helper()
	caught, committing := 0, 0
	for range kills(t) {
		killAtRandom(t, role, within)
		left, recorded := hiddenIn(t, dir)
		caught, committing = caught+min(left, 1), committing+min(recorded, 1)
		for name, one := range want[0] {
			data, err := os.ReadFile(filepath.Join(dir, name))
			require.NoError(t, err)
			require.Contains(t, []string{one, want[1][name]}, job.Checksum(data), "%s is neither old nor new", name)
		}
		require.NoError(t, export.Tidy(dir), "as the next write into the folder begins")
		require.Contains(t, want, filesIn(t, dir), "neither the old files nor the new ones")
	}
	t.Logf("killed %d times, %d of them before all was done, %d while the files took their places", kills(t), caught, committing)
}
