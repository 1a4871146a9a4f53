package scene

import (
	"context"
	"image"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

func point(x, y float64) layout.PicturePoint { return layout.PicturePoint{X: x, Y: y} }

// A mark of 100 pixels over 200 mm: a panel of 300 x 400 mm is 150 x 200 pixels.
func TestOnPhotoIsToScale(t *testing.T) {
	for name, m := range map[string]Mark{
		"level":     {A: point(50, 300), B: point(150, 300), LengthMM: 200, Centre: point(320, 200)},
		"upright":   {A: point(50, 300), B: point(50, 200), LengthMM: 200, Centre: point(320, 200)},
		"aslant":    {A: point(50, 300), B: point(110, 380), LengthMM: 200, Centre: point(320, 200)},
		"backwards": {A: point(150, 300), B: point(50, 300), LengthMM: 200, Centre: point(320, 200)},
	} {
		t.Run(name, func(t *testing.T) {
			img, err := OnPhoto(context.Background(), even(640, 480, grey), m, hanging(even(300, 400, green), 300, 400))
			require.NoError(t, err)
			require.Equal(t, image.Rect(0, 0, 640, 480), img.Rect)
			require.InDelta(t, 150, greenIn(img, func(x int) (int, int) { return x, 200 }, 640), 0.5)
			require.InDelta(t, 200, greenIn(img, func(y int) (int, int) { return 320, y }, 480), 0.5)
			require.Equal(t, green, lightAt(img, 320-74, 200-99).Stored(), "upper left corner")
			require.Equal(t, grey, lightAt(img, 2, 2).Stored(), "the photo is kept elsewhere")
			require.Less(t, lightAt(img, 320, 304).Y(), 0.75*grey.Linear().Y(), "the shadow below")
		})
	}
}

// A panel of the marked rectangle's own size, hung in its middle, fills it. The
// middle is where its diagonals cross, in ten times the figure of a textbook
// example: (48, 48).
// Source: the four-point homography by DLT, checked by the diagonals.
func TestOnPhotoTakenAslant(t *testing.T) {
	corners := [4]layout.PicturePoint{point(100, 100), point(900, 200), point(800, 800), point(150, 700)}
	m := Mark{Corners: &corners, CornersMM: layout.Size{W: 300, H: 200}, Centre: point(480, 480)}
	o := hanging(quarters(300, 200), 300, 200)
	img, err := OnPhoto(context.Background(), even(1000, 1000, grey), m, o)
	require.NoError(t, err)
	want := [4]colour.Stored{{R: 200, G: 40, B: 40}, {R: 40, G: 180, B: 60}, {R: 40, G: 44, B: 50}, {R: 40, G: 70, B: 200}}
	for i, c := range corners {
		in := func(share float64) (int, int) {
			return int(c.X + share*(480-c.X)), int(c.Y + share*(480-c.Y))
		}
		x, y := in(0.02)
		require.Equal(t, want[i], lightAt(img, x, y).Stored(), "just inside corner %d", i)
		x, y = in(0.9)
		require.Equal(t, want[i], lightAt(img, x, y).Stored(), "near the middle, towards corner %d", i)
	}
	out := lightAt(img, 90, 90)
	require.InDelta(t, out.R, out.G, 0.02, "outside corner 0 is wall")
}

func TestOnPhotoRefuses(t *testing.T) {
	good := Mark{A: point(50, 300), B: point(150, 300), LengthMM: 200, Centre: point(320, 200)}
	crossed := [4]layout.PicturePoint{point(10, 10), point(90, 80), point(80, 10), point(15, 70)}
	for name, test := range map[string]struct {
		spoil   func(*Mark, *Options)
		because string
	}{
		"no scale":         {func(m *Mark, _ *Options) { *m = Mark{Centre: m.Centre} }, "the photo of the wall has no scale: mark the two ends"},
		"no length":        {func(m *Mark, _ *Options) { m.LengthMM = 0 }, "marked length 0 mm is not possible"},
		"length negative":  {func(m *Mark, _ *Options) { m.LengthMM = -5 }, "marked length -5 mm"},
		"length NaN":       {func(m *Mark, _ *Options) { m.LengthMM = layout.MM(math.NaN()) }, "marked length NaN mm"},
		"mark too short":   {func(m *Mark, _ *Options) { m.B = point(51, 300) }, "mark of 1 pixels is too short"},
		"mark NaN":         {func(m *Mark, _ *Options) { m.A.X = math.NaN() }, "mark of NaN pixels"},
		"middle NaN":       {func(m *Mark, _ *Options) { m.Centre.X = math.NaN() }, "the panel's middle is at"},
		"middle outside":   {func(m *Mark, _ *Options) { m.Centre.X = 700 }, "lies outside the photo of 640 x 480 pixels"},
		"past the photo":   {func(m *Mark, _ *Options) { m.Centre.X = 60 }, "reaches past the photo"},
		"corners cross":    {func(m *Mark, _ *Options) { m.Corners, m.CornersMM = &crossed, layout.Size{W: 3, H: 3} }, "marked rectangle: "},
		"corners, no size": {func(m *Mark, _ *Options) { m.Corners = &crossed }, "marked rectangle: size 0 x 0 mm"},
		"panel":            {func(_ *Mark, o *Options) { o.PanelMM.W = -1 }, "panel: size -1 x 400 mm"},
	} {
		t.Run(name, func(t *testing.T) {
			m, o := good, hanging(even(300, 400, green), 300, 400)
			test.spoil(&m, &o)
			img, err := OnPhoto(context.Background(), even(640, 480, grey), m, o)
			require.Nil(t, img)
			require.ErrorContains(t, err, test.because)
			requireSentence(t, err)
		})
	}
	_, err := OnPhoto(context.Background(), nil, good, hanging(even(300, 400, green), 300, 400))
	requireSentence(t, err)
}

func TestOnPhotoSameBytesAndStops(t *testing.T) {
	m := Mark{A: point(50, 300), B: point(150, 300), LengthMM: 200, Centre: point(320, 200)}
	photo := even(700, 500, colour.Stored{R: 1}).SubImage(image.Rect(30, 10, 670, 490)).(*image.RGBA)
	before := append([]byte(nil), photo.Pix...)
	cores := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(cores)
	one, err := OnPhoto(context.Background(), photo, m, hanging(quarters(300, 400), 300, 400))
	require.NoError(t, err)
	runtime.GOMAXPROCS(5)
	many, err := OnPhoto(context.Background(), photo, m, hanging(quarters(300, 400), 300, 400))
	require.NoError(t, err)
	require.Equal(t, one.Pix, many.Pix)
	require.Equal(t, before, photo.Pix, "the photo itself is left alone")

	ended, end := context.WithCancel(context.Background())
	end()
	_, err = OnPhoto(ended, photo, m, hanging(quarters(300, 400), 300, 400))
	require.ErrorIs(t, err, context.Canceled)
}

func BenchmarkOnPhoto(b *testing.B) {
	m := Mark{A: point(500, 3000), B: point(1500, 3000), LengthMM: 800, Centre: point(2000, 1300)}
	photo, o := even(4000, 3000, grey), hanging(quarters(1200, 1600), 300, 400)
	b.ReportAllocs()
	b.SetBytes(4000 * 3000 * 4)
	for b.Loop() {
		if _, err := OnPhoto(context.Background(), photo, m, o); err != nil {
			b.Fatal(err)
		}
	}
}
