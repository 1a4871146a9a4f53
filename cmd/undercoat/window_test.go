package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"io"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"github.com/stretchr/testify/require"

	"undercoat/ui/bench"
)

// The tests of this package drive a real window, with real pointer and key
// events, under a display of their own (xvfb-run in the Makefile). The toolkit
// wants the main goroutine, so the tests run beside it. Nothing may be required
// over there: a failed test ends its goroutine.
var (
	application fyne.App
	haveDisplay = os.Getenv("DISPLAY") != "" || runtime.GOOS != "linux"
	complaints  = &watch{}
)

// asProgram makes the test's own binary behave as the program.
const asProgram = "UNDERCOAT_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		return
	}
	if !haveDisplay {
		os.Exit(m.Run())
	}
	if err := besideTheToolkit(m); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// besideTheToolkit runs the tests while the toolkit has the main goroutine, with
// nothing of the user's own settings, and ends the program with their outcome.
func besideTheToolkit(m *testing.M) error {
	home, err := os.MkdirTemp("", "undercoat-home")
	if err != nil {
		return err
	}
	for _, name := range []string{"HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME"} {
		if err := os.Setenv(name, home); err != nil {
			return err
		}
	}
	log.SetOutput(io.MultiWriter(os.Stderr, complaints))
	if application, err = newApp(); err != nil {
		return err
	}
	application.NewWindow("kept") // never shown: the toolkit ends with its last window
	application.Lifecycle().SetOnStarted(func() {
		go func() {
			code := outcome(m.Run())
			log.SetOutput(io.Discard) // the toolkit misses the home that is now taken away
			os.RemoveAll(home)
			os.Exit(code)
		}()
	})
	application.Run()
	return errors.New("the toolkit ended before the tests")
}

// outcome is a failure also where the tests passed and the toolkit complained.
func outcome(code int) int {
	found := complaints.found()
	if len(found) == 0 {
		return code
	}
	fmt.Fprintf(os.Stderr, "FAIL: the toolkit complained:\n%s\n", strings.Join(found, "\n"))
	return 1
}

// watch keeps the lines of a log that tell of a mistake of this program's.
type watch struct {
	mu  sync.Mutex
	log bytes.Buffer
}

func (w *watch) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.log.Write(p)
}

// mistakes are what the toolkit says of work on the wrong goroutine and of words
// without a translation.
var mistakes = []string{"Error in Fyne call thread", "Translation failure"}

func (w *watch) found() (lines []string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for line := range strings.Lines(w.log.String()) {
		for _, mistake := range mistakes {
			if strings.Contains(line, mistake) {
				lines = append(lines, strings.TrimSpace(line))
				break
			}
		}
	}
	return lines
}

func TestComplaintsOfTheToolkitAreSeen(t *testing.T) {
	w := &watch{}
	logger := log.New(w, "", log.LstdFlags)
	logger.Println("Fyne error: Getting favorite locations")
	require.Empty(t, w.found(), "this one is the computer's")
	logger.Println("*** Error in Fyne call thread, this should have been called in fyne.Do[AndWait] ***")
	require.Len(t, w.found(), 1)
}

// desk is the open window and the hand that drives it.
type desk struct {
	t      *testing.T
	win    fyne.Window
	b      *bench.Bench
	probe  *canvas.Raster // drawn last of all that stands in the window
	corner spot           // of the window, on the screen
	beat   chan struct{}  // one waits here after every turn of the toolkit's main loop
}

func needDisplay(t *testing.T) {
	t.Helper()
	if !haveDisplay {
		t.Skip("no display: run the tests by make test, which brings one along")
	}
	for _, tool := range []string{"xdotool", "import"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed: run the tests by make test, which installs it", tool)
		}
	}
}

func openDesk(t *testing.T) *desk {
	t.Helper()
	needDisplay(t)
	d := &desk{t: t, probe: canvas.NewRaster(nothing), beat: make(chan struct{}, 1)}
	pulse := fyne.NewAnimation(time.Second, func(float32) {
		select {
		case d.beat <- struct{}{}:
		default:
		}
	})
	pulse.RepeatCount = fyne.AnimationRepeatForever
	demo := <-readDemo()
	require.NoError(t, demo.err)
	fyne.DoAndWait(func() {
		pulse.Start()
		d.win = newWindow(application)
		d.b = demo.bench(d.win)
		d.probe.Resize(fyne.NewSize(1, 1))
		d.win.SetContent(container.NewStack(d.win.Content(), container.NewWithoutLayout(d.probe)))
		d.win.Show()
	})
	d.settle(func() {})
	d.findCorner()
	t.Cleanup(func() {
		fyne.DoAndWait(func() {
			pulse.Stop()
			d.win.SetCloseIntercept(nil)
			d.win.Close()
		})
		d.b.Close()
	})
	return d
}

func nothing(int, int) image.Image { return image.NewRGBA(image.Rect(0, 0, 1, 1)) }

// painted waits until the toolkit has drawn what stands in the window now. The
// probe is asked for its picture only while a frame is drawn, and the next turn of
// the main loop comes when that frame is on the screen.
func (d *desk) painted() {
	drawn := make(chan struct{})
	fyne.DoAndWait(func() {
		d.probe.Generator = func(w, h int) image.Image {
			d.probe.Generator = nothing
			close(drawn)
			return nothing(w, h)
		}
		d.probe.Refresh()
	})
	<-drawn
	fyne.DoAndWait(func() {})
}

// settle arranges something and waits until the screen shows what came of it.
// Drawing may find another size for the easel, which then asks for other pictures.
func (d *desk) settle(arrange func()) {
	d.t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); { // a bound on a broken run
		<-d.b.Settle(arrange)
		before := d.b.Session().Generation()
		d.painted()
		if d.b.Session().Generation() == before {
			return
		}
		arrange = func() {}
	}
	d.t.Fatal("the window did not come to rest")
}

// shot writes what a window of the display looks like into a file; "root" is all
// of the display.
func (d *desk) shot(window, path string) {
	d.t.Helper()
	out, err := exec.Command("import", "-window", window, path).CombinedOutput()
	require.NoError(d.t, err, string(out))
}

// until looks at every turn of the toolkit's main loop, until look is content.
func (d *desk) until(what string, look func() bool) {
	d.t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); { // a bound on a broken run
		met := false
		fyne.DoAndWait(func() { met = look() })
		if met {
			return
		}
		<-d.beat
	}
	failed := filepath.Join(os.TempDir(), "undercoat-window-test.png")
	d.shot("root", failed)
	d.t.Fatalf("%s did not come about: see %s", what, failed)
}
