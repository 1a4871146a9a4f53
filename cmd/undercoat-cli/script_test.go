package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"go/build"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
)

// alone is the tests, kept away from the library of whoever runs them.
type alone struct{ *testing.M }

func (a alone) Run() int {
	dir, err := os.MkdirTemp("", "undercoat-cli")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	os.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "config"))
	os.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	return a.M.Run()
}

func TestMain(m *testing.M) {
	testscript.Main(alone{m}, map[string]func(){
		"undercoat-cli": func() { os.Exit(run(context.Background(), os.Args[1:], os.Stdout, os.Stderr)) },
	})
}

func TestScripts(t *testing.T) {
	photo := photograph(t)
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(env *testscript.Env) error {
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, "config"))
			env.Setenv("XDG_STATE_HOME", filepath.Join(env.WorkDir, "state"))
			for name, data := range map[string][]byte{
				"photo.jpeg":     photo,
				"empty.jpeg":     {},
				"cut.jpeg":       photo[:len(photo)/2],
				"text.png":       []byte("this is a letter, not a picture\n"),
				"huge.png":       hugePNG(),
				"one-pixel.jpeg": onePixel(t),
			} {
				if err := os.WriteFile(filepath.Join(env.WorkDir, name), data, 0o644); err != nil {
					return err
				}
			}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "json": oneObject, "photographed": photographed, "burned": burnedTrial},
	})
}

// photograph is one that comes with Go's sources, or else the project's own.
func photograph(t *testing.T) []byte {
	t.Helper()
	photo, err := os.ReadFile(filepath.Join(build.Default.GOROOT, "src", "image", "testdata", "video-001.jpeg"))
	if errors.Is(err, fs.ErrNotExist) {
		photo, err = os.ReadFile(filepath.Join("..", "..", "testdata", "goldens", "dunes.jpg"))
	}
	require.NoError(t, err)
	return photo
}

// oneObject asks that standard output holds one JSON object and nothing else, with
// the names given in it: json NAME ...
func oneObject(ts *testscript.TestScript, neg bool, names []string) {
	if neg {
		ts.Fatalf("usage: json NAME ...")
	}
	text := ts.ReadFile("stdout")
	dec := json.NewDecoder(strings.NewReader(text))
	var object map[string]json.RawMessage
	ts.Check(dec.Decode(&object))
	if _, err := dec.Token(); err != io.EOF {
		ts.Fatalf("more than one JSON object on standard output:\n%s", text)
	}
	for _, name := range names {
		if _, ok := object[name]; !ok {
			ts.Fatalf("the JSON object has no %q:\n%s", name, text)
		}
	}
}

// exits runs a command line and asks for an exit code: exits 3 undercoat-cli ...
// Standard output and error are then checked with stdout and stderr.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ...")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = err.Error()
		got = got[len("exit status "):]
	}
	if got != args[0] {
		ts.Fatalf("exit code %s, want %s\nstderr: %s", got, args[0], ts.ReadFile("stderr"))
	}
}

// hugePNG is a header that claims 60000 x 60000 pixels.
func hugePNG() []byte {
	head := []byte("IHDR\x00\x00\xea\x60\x00\x00\xea\x60\x08\x02\x00\x00\x00")
	data := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	return binary.BigEndian.AppendUint32(data, crc32.ChecksumIEEE(head))
}

func onePixel(t *testing.T) []byte {
	img := image.NewGray(image.Rect(0, 0, 1, 1))
	img.SetGray(0, 0, color.Gray{Y: 128})
	path := filepath.Join(t.TempDir(), "one.jpeg")
	f, err := os.Create(path)
	require.NoError(t, err)
	defer f.Close()
	require.NoError(t, jpeg.Encode(f, img, nil))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}

// burnedTrial is a photograph of a trial's scrap that had a factor on the dose meant:
// burned DIR FACTOR PHOTO.
func burnedTrial(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: burned DIR FACTOR PHOTO")
	}
	factor, err := strconv.ParseFloat(args[1], 64)
	ts.Check(err)
	photo, err := trialPhotograph(ts.MkAbs(args[0]), factor)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), photo, 0o600))
}

// trialPhotograph is one of a trial's scrap, squarely, burned with a factor on the dose.
func trialPhotograph(dir string, factor float64) ([]byte, error) {
	t, err := job.ReadTrial(dir)
	if err != nil {
		return nil, err
	}
	recipe := t.Scrap.Recipe()
	recipe.Machine.OpticalPowerW *= factor
	img, err := t.Scrap.PanelProof(context.Background(), recipe, t.Raster, t.Placement, 700, nil)
	if err != nil {
		return nil, err
	}
	var photo bytes.Buffer
	err = export.WriteProof(&photo, img, 0)
	return photo.Bytes(), err
}
