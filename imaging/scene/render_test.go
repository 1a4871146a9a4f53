package scene

import (
	"context"
	"image"
	"math"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/layout"
)

func TestRenderHangsThePanelUpright(t *testing.T) {
	o := hanging(quarters(200, 300), 400, 600)
	img := rendered(t, o, 800, 500)
	v := newView(o, 800, 500)
	at := func(u, w float64) colour.Stored {
		p := v.corner(v.panel.x0+u*v.panel.w(), v.panel.y1-w*v.panel.h())
		return lightAt(img, int(p.X), int(p.Y)).Stored()
	}
	require.Equal(t, colour.Stored{R: 200, G: 40, B: 40}, at(0.25, 0.25))
	require.Equal(t, colour.Stored{R: 40, G: 180, B: 60}, at(0.75, 0.25))
	require.Equal(t, colour.Stored{R: 40, G: 70, B: 200}, at(0.25, 0.75))
	require.Equal(t, colour.Stored{R: 40, G: 44, B: 50}, at(0.75, 0.75))
}

// A screen of black and white dots is as bright as their mean in linear light,
// code 188, and not as that of the codes.
// Source: IEC 61966-2-1:1999, by arithmetic.
func TestFineDotsAverageInLinearLight(t *testing.T) {
	dots := even(2000, 2000, colour.Stored{})
	for y := range 2000 {
		for x := range 2000 {
			if (x+y)%2 == 0 {
				copy(dots.Pix[dots.PixOffset(x, y):], []byte{255, 255, 255, 255})
			}
		}
	}
	o := hanging(dots, 400, 400)
	img := rendered(t, o, 800, 500)
	r := newView(o, 800, 500).inner().Inset(4)
	for _, p := range []image.Point{r.Min, r.Max, r.Min.Add(r.Size().Div(2))} {
		require.InDelta(t, 188, int(lightAt(img, p.X, p.Y).Stored().G), 1)
	}
}

func TestEdgeAndShadow(t *testing.T) {
	o := hanging(even(300, 300, colour.Stored{R: 200, G: 200, B: 200}), 600, 600)
	o.EdgeMM, o.EdgeColour = 40, colour.Stored{R: 200}
	img := rendered(t, o, 1600, 1000)
	v := newView(o, 1600, 1000)
	look := func(x, y float64) colour.Linear {
		p := v.corner(x, y)
		return lightAt(img, int(p.X), int(p.Y))
	}
	b := v.panel
	right := look(b.x1+3, b.cy())
	below := look(b.cx(), b.y0-3)
	require.Greater(t, right.R, 4*right.G, "the wrapped edge shows to the right")
	require.Greater(t, below.R, 4*below.G, "and below")
	require.Greater(t, right.R, below.R, "where it is darkest")
	left := look(b.x0-4, b.cy())
	require.Less(t, left.R, 1.3*left.G, "but not to the left")
	plain := grey.Linear().Y()
	require.Less(t, look(b.x1+12, b.cy()-30).Y(), 0.75*plain, "the shadow falls to the right")
	require.Less(t, look(b.cx(), b.y0-14).Y(), 0.7*plain, "and down")
	require.Greater(t, look(b.x0-40, b.y1+40).Y(), 0.93*plain, "hardly up to the left")
}

func TestFinishShines(t *testing.T) {
	mean := func(f coat.Finish) float64 {
		o := hanging(even(300, 300, colour.Stored{R: 43, G: 45, B: 48}), 600, 600)
		o.Finish = f
		img := rendered(t, o, 400, 250)
		sum, r := 0.0, newView(o, 400, 250).inner()
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				sum += lightAt(img, x, y).Y()
			}
		}
		return sum / float64(r.Dx()*r.Dy())
	}
	require.Equal(t, mean(coat.Bare), mean(coat.Matt))
	require.Greater(t, mean(coat.Satin), mean(coat.Matt))
	require.Greater(t, mean(coat.Gloss), mean(coat.Satin))
}

func TestWallHasItsColour(t *testing.T) {
	for _, kind := range Kinds() {
		for _, wall := range []colour.Stored{{R: 233, G: 228, B: 218}, {R: 127, G: 147, B: 137}, {R: 60, G: 70, B: 90}} {
			o := hanging(even(300, 300, colour.Stored{}), 300, 300)
			o.Kind, o.Wall = kind, wall
			img := rendered(t, o, 800, 500)
			v := newView(o, 800, 500)
			var sum colour.Linear
			p := v.corner(v.panel.x1+150, v.panel.cy())
			for dy := range 20 {
				for dx := range 20 {
					sum = sum.Add(lightAt(img, int(p.X)+dx, int(p.Y)-10+dy).Scale(1.0 / 400))
				}
			}
			require.Less(t, colour.DE2000(wall.Linear().Lab(), sum.Lab()), 2.5, "%s %v", kind, wall)
		}
	}
}

func TestSameBytesOnAnyNumberOfCores(t *testing.T) {
	cores := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(cores)
	for _, kind := range Kinds() {
		o := hanging(quarters(500, 500), 500, 500)
		o.Kind, o.Finish = kind, coat.Gloss
		runtime.GOMAXPROCS(1)
		one := rendered(t, o, 333, 217)
		runtime.GOMAXPROCS(5)
		require.Equal(t, one.Pix, rendered(t, o, 333, 217).Pix)
	}
}

func TestPanelFromWithinAnImage(t *testing.T) {
	whole := even(400, 500, colour.Stored{R: 255})
	inside := whole.SubImage(image.Rect(70, 90, 270, 390)).(*image.RGBA)
	for y := range 300 {
		copy(inside.Pix[y*inside.Stride:][:800], quarters(200, 300).Pix[y*800:])
	}
	want := rendered(t, hanging(quarters(200, 300), 400, 600), 320, 200)
	require.Equal(t, want.Pix, rendered(t, hanging(inside, 400, 600), 320, 200).Pix)
}

func TestSmallestProofs(t *testing.T) {
	for name, panel := range map[string]*image.RGBA{"1x1": even(1, 1, green), "one row": even(30, 1, green)} {
		t.Run(name, func(t *testing.T) {
			o := hanging(panel, 300*layout.MM(panel.Rect.Dx()), 300)
			img := rendered(t, o, 320, 200)
			r := newView(o, 320, 200).inner()
			require.Equal(t, green, lightAt(img, (r.Min.X+r.Max.X)/2, (r.Min.Y+r.Max.Y)/2).Stored())
		})
	}
}

func TestRenderRefuses(t *testing.T) {
	nan := layout.MM(math.NaN())
	for name, test := range map[string]struct {
		spoil   func(*Options)
		w, h    int
		because string
	}{
		"room":           {func(o *Options) { o.Kind = "attic" }, 320, 200, `room "attic" is unknown: choose`},
		"no proof":       {func(o *Options) { o.Panel = nil }, 320, 200, "the panel's proof is empty"},
		"empty proof":    {func(o *Options) { o.Panel = image.NewRGBA(image.Rectangle{}) }, 320, 200, "the panel's proof is empty"},
		"negative width": {func(o *Options) { o.PanelMM.W = -300 }, 320, 200, "panel: size -300 x 300 mm is not possible"},
		"width NaN":      {func(o *Options) { o.PanelMM.W = nan }, 320, 200, "panel: size NaN x 300 mm"},
		"height 0":       {func(o *Options) { o.PanelMM.H = 0 }, 320, 200, "panel: size 300 x 0 mm"},
		"edge negative":  {func(o *Options) { o.EdgeMM = -1 }, 320, 200, "edge depth -1 mm is not possible"},
		"edge NaN":       {func(o *Options) { o.EdgeMM = nan }, 320, 200, "edge depth NaN mm"},
		"finish":         {func(o *Options) { o.Finish = "wax" }, 320, 200, `finish "wax" is not known`},
		"another shape":  {func(o *Options) { o.PanelMM.H = 200 }, 320, 200, "proof of 60 x 60 pixels has not the shape of a panel of 300 x 200 mm"},
		"view too small": {func(*Options) {}, 8, 200, "view of 8 x 200 pixels is not possible"},
		"view too large": {func(*Options) {}, 320, 9000, "view of 320 x 9000 pixels"},
		"view negative":  {func(*Options) {}, -320, 200, "view of -320 x 200 pixels"},
	} {
		t.Run(name, func(t *testing.T) {
			o := hanging(even(60, 60, green), 300, 300)
			test.spoil(&o)
			img, err := Render(context.Background(), o, test.w, test.h)
			require.Nil(t, img)
			require.ErrorContains(t, err, test.because)
			requireSentence(t, err)
		})
	}
}

func TestRenderStops(t *testing.T) {
	o := hanging(even(60, 60, green), 300, 300)
	ended, end := context.WithCancel(context.Background())
	end()
	_, err := Render(ended, o, 320, 200)
	require.ErrorIs(t, err, context.Canceled)

	const soon = 50 * time.Millisecond
	ctx, cancel := context.WithTimeout(context.Background(), soon)
	defer cancel()
	start := time.Now()
	_, err = Render(ctx, o, maxSide, maxSide/2) // seconds of work
	require.ErrorIs(t, err, context.DeadlineExceeded)
	require.Less(t, time.Since(start)-soon, time.Second, "a busy computer's second; a row takes some milliseconds")
}

func BenchmarkRender(b *testing.B) {
	for _, kind := range Kinds() {
		b.Run(string(kind), func(b *testing.B) {
			o := hanging(quarters(1200, 1600), 300, 400)
			o.Kind = kind
			b.ReportAllocs()
			b.SetBytes(1600 * 1000 * 4)
			for b.Loop() {
				if _, err := Render(context.Background(), o, 1600, 1000); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
