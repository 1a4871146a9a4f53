package job_test

import (
	"bytes"
	"go/build"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// withGo is a photograph of those that come with Go's own sources.
func withGo(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(build.Default.GOROOT, "src", "image", "testdata", name))
	if os.IsNotExist(err) {
		t.Skipf("this Go comes without its sources: no photograph %s to prepare", name)
	}
	require.NoError(t, err)
	return data
}

func golden(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "goldens", name))
	require.NoError(t, err)
	return data
}

// plain is a document on the first starter entries, of a panel without a border.
func plain(t testing.TB, w, h, pitch layout.MM) job.Document {
	t.Helper()
	stack, err := job.FindStack("")
	require.NoError(t, err)
	machine, err := job.FindMachine("")
	require.NoError(t, err)
	d := job.Blank(stack, machine)
	d.Panel.Size = layout.Size{W: w, H: h}
	d.Border = layout.Border{}
	d.Setting.Pitch = pitch
	return d
}

// byLight makes the share of burned dots the share of light, whatever the stack.
func byLight(d job.Document) job.Document {
	d.Picture.Tones, d.Picture.Burns = job.TonesLight, job.BurnsBright
	return d
}

func withPicture(t testing.TB, d job.Document, name string, data []byte) *job.Job {
	t.Helper()
	j, _, err := job.New(t.Context(), d, name, data)
	require.NoError(t, err)
	return j
}

// prepared hands the job off into a new folder.
func prepared(t *testing.T, j *job.Job, only ...job.Output) (dir string, h *job.Handoff) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "out")
	h, err := job.Prepare(t.Context(), j, job.Request{Dir: dir, Only: only})
	require.NoError(t, err)
	return dir, h
}

// raster reads raster.png with the standard library's decoder. A dot burns where
// the picture is black.
func raster(t *testing.T, dir string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, job.RasterFile))
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	grey, ok := img.(*image.Gray)
	require.True(t, ok, "%T", img)
	return grey
}

// burned is the share of burned dots in a part of a raster.
func burned(r *image.Gray, part image.Rectangle) float64 {
	part = part.Intersect(r.Bounds())
	n := 0
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			if r.GrayAt(x, y).Y == 0 {
				n++
			}
		}
	}
	return float64(n) / float64(part.Dx()*part.Dy())
}

// quarters is a picture of four even fields, upper left, upper right, lower left
// and lower right, as a PNG.
func quarters(t *testing.T, w, h int, codes [4]uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetGray(x, y, color.Gray{Y: codes[2*(y*2/h)+x*2/w]})
		}
	}
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, img))
	return b.Bytes()
}

// shares are the burned shares well inside the four quarters of a raster, in the
// order of [quarters].
func shares(r *image.Gray) [4]float64 {
	var out [4]float64
	w, h := r.Bounds().Dx()/2, r.Bounds().Dy()/2
	for i := range out {
		at := image.Pt(i%2*w, i/2*h)
		out[i] = burned(r, image.Rect(w/8, h/8, w-w/8, h-h/8).Add(at))
	}
	return out
}
