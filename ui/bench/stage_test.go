package bench

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"undercoat/imaging/job"
	"undercoat/layout"
	house "undercoat/ui/theme"
	"undercoat/ui/translations"
	"undercoat/ui/widgets"
)

// keyboard is the modifiers that a test holds down.
var keyboard fyne.KeyModifier

// headless is the toolkit's application without a screen, with a keyboard.
type headless struct{ fyne.App }

type headlessDriver struct{ fyne.Driver }

func (a headless) Driver() fyne.Driver { return headlessDriver{a.App.Driver()} }

func (headlessDriver) CurrentKeyModifiers() fyne.KeyModifier { return keyboard }

func (d headlessDriver) CreateSplashWindow() fyne.Window { return d.CreateWindow("") }

var _ desktop.Driver = headlessDriver{}

func TestMain(m *testing.M) {
	// Nothing of the user's own library, nor of their journals.
	home, err := os.MkdirTemp("", "undercoat-bench")
	if err != nil {
		panic(err)
	}
	for _, name := range []string{"XDG_CONFIG_HOME", "XDG_STATE_HOME"} {
		if err := os.Setenv(name, home); err != nil {
			panic(err)
		}
	}
	app := test.NewApp()
	app.Settings().SetTheme(house.Forced(theme.VariantDark))
	fyne.SetCurrentApp(headless{app})
	if err := translations.Load(); err != nil {
		panic(err)
	}
	goleak.VerifyTestMain(m, goleak.Cleanup(func(code int) {
		os.RemoveAll(home)
		os.Exit(code)
	}))
}

// loop stands in for the toolkit's main goroutine: what other goroutines want done
// there waits until the test turns it.
type loop struct {
	mu    sync.Mutex
	queue []func()
	woken chan struct{} // holds at most one
}

func newLoop() *loop { return &loop{woken: make(chan struct{}, 1)} }

func (l *loop) do(f func()) {
	l.mu.Lock()
	l.queue = append(l.queue, f)
	l.mu.Unlock()
	select {
	case l.woken <- struct{}{}:
	default:
	}
}

// turn does what has been waiting.
func (l *loop) turn() {
	for {
		l.mu.Lock()
		if len(l.queue) == 0 {
			l.mu.Unlock()
			return
		}
		f := l.queue[0]
		l.queue = l.queue[1:]
		l.mu.Unlock()
		f()
	}
}

// window notes what the bench asks of its window and the headless one forgets.
type window struct {
	fyne.Window
	dropped func(fyne.Position, []fyne.URI)
	closing func()
}

func (w *window) SetOnDropped(f func(fyne.Position, []fyne.URI)) { w.dropped = f }

func (w *window) SetCloseIntercept(f func()) { w.closing = f }

// desk is a bench on a small job in a window without a screen.
type desk struct {
	*Bench
	t     *testing.T
	loop  *loop
	win   *window
	quits int
}

// newDesk opens a bench on a job of 60 x 80 mm at a pitch of 0.2 mm.
func newDesk(t *testing.T) *desk {
	t.Helper()
	stack, err := job.FindStack("")
	require.NoError(t, err)
	machine, err := job.FindMachine("")
	require.NoError(t, err)
	d := job.Blank(stack, machine)
	d.Panel.Size = layout.Size{W: 60, H: 80}
	d.Setting.Pitch = 0.2
	return deskWith(t, d, photo(t, 300, 240))
}

func deskWith(t *testing.T, d job.Document, pic []byte) *desk {
	t.Helper()
	j, decoded, err := job.New(t.Context(), d, "photo.jpeg", pic)
	require.NoError(t, err)
	desk := &desk{t: t, loop: newLoop(), win: &window{Window: test.NewTempWindow(t, widget.NewLabel(""))}}
	desk.Bench = New(desk.win, j, decoded, Options{Do: desk.loop.do, Quit: func() { desk.quits++ }})
	desk.win.Resize(fyne.NewSize(1280, 800))
	t.Cleanup(func() {
		desk.Close()
		keyboard = 0
	})
	return desk
}

// photo is a picture whose light falls off to the right and downwards.
func photo(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, shades(w, h), nil))
	return b.Bytes()
}

func shades(w, h int) image.Image {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetGray(x, y, color.Gray{Y: uint8(255 * (x*h + y*w) / (2 * w * h))})
		}
	}
	return img
}

func pngOf(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, shades(w, h)))
	return b.Bytes()
}

// until turns the loop until something has come about. The time is only a bound on
// a broken run.
func (d *desk) until(what string, look func() bool) {
	d.t.Helper()
	for end := time.After(time.Minute); ; {
		d.loop.turn()
		if look() {
			return
		}
		select {
		case <-d.loop.woken:
		case <-end:
			d.t.Fatalf("%s did not come about", what)
		}
	}
}

// closed tells whether a channel was closed.
func closed(c <-chan struct{}) bool {
	select {
	case <-c:
		return true
	default:
		return false
	}
}

// settle waits until the easel shows the last picture of the job as it is.
func (d *desk) settle() {
	d.t.Helper()
	settled := d.Settle(func() {})
	d.until("the last picture", func() bool { return closed(settled) })
}

// file writes a file for the bench to open.
func (d *desk) file(name string, data []byte) string {
	d.t.Helper()
	path := filepath.Join(d.t.TempDir(), name)
	require.NoError(d.t, os.WriteFile(path, data, 0o666))
	return path
}

// drop lets a file go over the window.
func (d *desk) drop(path string) {
	d.win.dropped(fyne.NewPos(600, 400), []fyne.URI{storage.NewFileURI((&url.URL{Path: path}).Path)})
}

// loaded waits until nothing is being read any more.
func (d *desk) loaded() {
	d.t.Helper()
	d.until("the end of reading", func() bool { return d.status.reads == "" })
}

// object finds what match accepts in the window, questions included.
func object[T fyne.CanvasObject](d *desk, what string, match func(T) bool) T {
	d.t.Helper()
	var found []T
	visit := func(o fyne.CanvasObject) {
		if o, ok := o.(T); ok && match(o) {
			found = append(found, o)
		}
	}
	walk(d.win.Content(), visit)
	for _, over := range d.win.Canvas().Overlays().List() {
		walk(over, visit)
	}
	require.Len(d.t, found, 1, "%s", what)
	return found[0]
}

// walk calls visit for everything on show.
func walk(o fyne.CanvasObject, visit func(fyne.CanvasObject)) {
	if !o.Visible() {
		return
	}
	visit(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, inner := range o.Objects {
			walk(inner, visit)
		}
	case fyne.Widget:
		for _, inner := range test.WidgetRenderer(o).Objects() {
			walk(inner, visit)
		}
	}
}

// openDrawer opens one drawer and closes the others, so that names are clear.
func (d *desk) openDrawer(nth int) {
	for i, drawer := range d.Drawers() {
		drawer.SetOpen(i == nth)
	}
}

// openSection opens one section of a drawer and closes the others of it.
func (d *desk) openSection(nth int, title string) {
	d.t.Helper()
	d.openDrawer(nth)
	var sections []*widgets.Drawer
	walk(d.Drawers()[nth], func(o fyne.CanvasObject) {
		if s, ok := o.(*widgets.Drawer); ok && s != d.Drawers()[nth] {
			sections = append(sections, s)
		}
	})
	found := false
	for _, s := range sections {
		s.SetOpen(s.Title() == title)
		found = found || s.IsOpen()
	}
	require.True(d.t, found, "section %s", title)
}

func (d *desk) field(name string) *widgets.Field {
	d.t.Helper()
	return object(d, "field "+name, func(f *widgets.Field) bool { return f.Name() == name })
}

// control is the control behind a name.
func (d *desk) control(name string) fyne.CanvasObject {
	d.t.Helper()
	return object(d, "control "+name, func(n *widgets.Named) bool { return n.Name() == name }).Control()
}

func (d *desk) button(label string) *widget.Button {
	d.t.Helper()
	return object(d, "button "+label, func(b *widget.Button) bool { return b.Text == label })
}

func (d *desk) tap(label string) {
	d.t.Helper()
	test.Tap(d.button(label))
	d.loop.turn()
}

// enter types a text into a line in place of what stands there, and presses Enter.
func (d *desk) enter(name, text string) {
	d.t.Helper()
	line := d.field(name).Entry()
	d.win.Canvas().Focus(line)
	line.(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutSelectAll{})
	line.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	for _, r := range text {
		line.TypedRune(r)
	}
	line.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	d.loop.turn()
}

// tick taps a box.
func (d *desk) tick(name string) {
	d.t.Helper()
	test.Tap(d.control(name).(*widget.Check))
	d.loop.turn()
}

// slide puts a slider to a value in one short drag.
func (d *desk) slide(name string, value float64) {
	d.t.Helper()
	s := d.control(name).(*widget.Slider)
	s.SetValue(value)
	s.OnChangeEnded(value)
	d.loop.turn()
}

// choose picks an entry of a list.
func (d *desk) choose(name, label string) {
	d.t.Helper()
	sel := d.control(name).(*widget.Select)
	require.Contains(d.t, sel.Options, label)
	sel.SetSelected(label)
	d.loop.turn()
}

// says is what the notice bar says, as one text.
func (d *desk) says() string {
	text, next := d.notice.Said()
	if next == "" {
		return text
	}
	return text + " " + next
}
