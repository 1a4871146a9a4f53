package compare_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/colour"
	"undercoat/imaging/compare"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// panel is the demo job on a small panel, developed, with its raster.
type panel struct {
	doc    job.Document
	raster job.Raster
	place  layout.Placement
}

func newPanel(t testing.TB) panel {
	t.Helper()
	j, pic, err := job.Demo(t.Context())
	require.NoError(t, err)
	d := j.Document
	d.Panel.Size = layout.Size{W: 90, H: 120}
	d.Border = layout.Even(5)
	d.Setting.Pitch = 0.1
	if d, err = d.Refit(pic); err != nil {
		t.Fatal(err)
	}
	v, err := (&job.Job{Document: d, Picture: assets.DemoPicture()}).Develop(t.Context(), pic)
	require.NoError(t, err)
	pl, err := d.Placement()
	require.NoError(t, err)
	raster, err := v.Raster(t.Context(), pl)
	require.NoError(t, err)
	return panel{d, raster, pl}
}

// camera is how a finished panel is photographed.
type camera struct {
	factor  float64 // on the dose the panel had
	fallOff float64 // share of the light lost in the farthest corner
	cast    [3]float64
	noise   float64
	seed    uint64
	tilt    float64 // pixels by which the corners are drawn in
}

// shot is the photograph and where the panel's corners really are in it.
func (p panel) shot(t testing.TB, c camera) (*plane.RGB16, [4]layout.PicturePoint) {
	t.Helper()
	recipe := p.doc.Recipe()
	recipe.Machine.OpticalPowerW *= c.factor
	// The lens resolves two of the camera's pixels: dots have merged before they are
	// squeezed to stored values.
	finished, err := p.doc.PanelProof(t.Context(), recipe, p.raster, p.place, 500, nil)
	require.NoError(t, err)
	k := c.tilt
	corners := [4]layout.PicturePoint{{X: 120 + k, Y: 130}, {X: 880 - k, Y: 140 + k/2}, {X: 870, Y: 1110 - k}, {X: 130 - k/3, Y: 1120}}
	return photographed(t, finished, corners, 1000, 1250, c), corners
}

// photographed is a photograph of w x h pixels in which the corners of what is seen lie
// where they are said to.
func photographed(t testing.TB, finished *image.RGBA, corners [4]layout.PicturePoint, w, h int, c camera) *plane.RGB16 {
	t.Helper()
	ctx := context.Background()
	pic, err := picture.Decode(ctx, photographFile(t, finished, corners, w, h, c), picture.Limits{})
	require.NoError(t, err)
	light, err := pic.RGB(ctx, picture.Turn{}, colour.Stored{})
	require.NoError(t, err)
	return light
}

// photographFile is its file.
func photographFile(t testing.TB, finished *image.RGBA, corners [4]layout.PicturePoint, w, h int, c camera) []byte {
	t.Helper()
	to, err := layout.FromCorners(corners, float64(finished.Rect.Dx()), float64(finished.Rect.Dy()))
	require.NoError(t, err)
	back, err := to.Inverse()
	require.NoError(t, err)
	rnd := rand.New(rand.NewPCG(c.seed, 7))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			at := back.Apply(layout.PicturePoint{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			look := colour.Linear{R: 0.3, G: 0.25, B: 0.2} // the desk
			if at.X >= 0 && at.Y >= 0 && at.X < float64(finished.Rect.Dx()) && at.Y < float64(finished.Rect.Dy()) {
				look = between(finished, at.X-0.5, at.Y-0.5)
			}
			far := math.Hypot(float64(x)/float64(w)-0.3, float64(y)/float64(h)-0.4) / math.Hypot(0.7, 0.6)
			light := 0.9 * (1 - c.fallOff*far*far)
			grain := func(v, cast float64) float64 { return v*light*cast + c.noise*rnd.NormFloat64() }
			s := colour.Linear{R: grain(look.R, c.cast[0]), G: grain(look.G, c.cast[1]), B: grain(look.B, c.cast[2])}.Stored()
			copy(img.Pix[4*(y*w+x):], []byte{s.R, s.G, s.B, 255})
		}
	}
	var file bytes.Buffer
	require.NoError(t, jpeg.Encode(&file, img, &jpeg.Options{Quality: 85}))
	return file.Bytes()
}

// between is the linear light between four pixels.
func between(img *image.RGBA, x, y float64) colour.Linear {
	at := func(x, y int) colour.Linear {
		c := img.RGBAAt(min(max(x, 0), img.Rect.Dx()-1), min(max(y, 0), img.Rect.Dy()-1))
		return colour.Stored{R: c.R, G: c.G, B: c.B}.Linear()
	}
	x0, y0 := math.Floor(x), math.Floor(y)
	upper := colour.Mix(at(int(x0), int(y0)), at(int(x0)+1, int(y0)), x-x0)
	lower := colour.Mix(at(int(x0), int(y0)+1), at(int(x0)+1, int(y0)+1), x-x0)
	return colour.Mix(upper, lower, y-y0)
}

func (p panel) request(t testing.TB, photo *plane.RGB16, corners [4]layout.PicturePoint) compare.Request {
	t.Helper()
	src, recipe, err := p.raster.Burning(p.doc.Recipe())
	require.NoError(t, err)
	return compare.Request{Recipe: recipe, Raster: src, Placement: p.place, Photo: photo, Corners: &corners}
}

// moved is corners as a hand sets them: off by some pixels.
func moved(corners [4]layout.PicturePoint, by float64, seed uint64) [4]layout.PicturePoint {
	rnd := rand.New(rand.NewPCG(seed, 3))
	for i := range corners {
		corners[i].X += by * (2*rnd.Float64() - 1)
		corners[i].Y += by * (2*rnd.Float64() - 1)
	}
	return corners
}

func TestTheDoseFactorComesBackWithinThreePercent(t *testing.T) {
	p := newPanel(t)
	for i, factor := range []float64{0.8, 0.9, 1, 1.1, 1.25} {
		t.Run(fmt.Sprint(factor), func(t *testing.T) {
			seed := uint64(i)
			photo, corners := p.shot(t, camera{factor: factor, fallOff: 0.3, cast: [3]float64{1.1, 1, 0.8}, noise: 0.004, seed: seed, tilt: 40})
			r, err := compare.Panel(t.Context(), p.request(t, photo, moved(corners, 6, seed)))
			require.NoError(t, err)
			t.Logf("factor %.3f (%.3f to %.3f), CIEDE2000 mean %.2f, 95 %% within %.2f", r.Dose.Factor, r.Dose.Range95[0], r.Dose.Range95[1], r.Mean, r.P95)
			for _, w := range r.Words {
				t.Log(w)
			}
			require.InEpsilon(t, factor, r.Dose.Factor, 0.03)
			require.InDelta(t, p.doc.Setting.PowerPercent/factor, r.CloserPower, 0.03*p.doc.Setting.PowerPercent/factor)
			for k := range corners {
				require.Less(t, math.Hypot(r.Corners[k].X-corners[k].X, r.Corners[k].Y-corners[k].Y), 3.0, "corner %d", k)
			}
			switch {
			case factor > 1.05:
				require.GreaterOrEqual(t, r.Deeper, r.Shallower)
				require.Contains(t, fmt.Sprint(r.Words), "more light")
			case factor < 0.95:
				require.Greater(t, r.Shallower, r.Deeper)
				require.Contains(t, fmt.Sprint(r.Words), "less light")
			default:
				require.Less(t, r.Mean, 4.0)
			}
		})
	}
}

func TestAPhotographOfTheWholePanelNeedsNoCorners(t *testing.T) {
	p := newPanel(t)
	img, err := p.doc.PanelProof(t.Context(), p.doc.Recipe(), p.raster, p.place, 800, nil)
	require.NoError(t, err)
	pic, err := picture.New(img)
	require.NoError(t, err)
	light, err := pic.RGB(t.Context(), picture.Turn{}, colour.Stored{})
	require.NoError(t, err)
	req := p.request(t, light, [4]layout.PicturePoint{})
	req.Corners = nil
	r, err := compare.Panel(t.Context(), req)
	require.NoError(t, err)
	require.InDelta(t, 1, r.Dose.Factor, 0.01)
	require.Less(t, r.Mean, 1.0)
	require.Contains(t, r.Words[0], "close to its proof")
}

func TestWhatIsNotThePanelIsSaidPlainly(t *testing.T) {
	p := newPanel(t)
	photo, corners := p.shot(t, camera{factor: 1, cast: [3]float64{1, 1, 1}})
	turned := [4]layout.PicturePoint{corners[2], corners[3], corners[0], corners[1]}
	blank := plane.NewRGB16(600, 800)
	for i := range blank.Pix {
		blank.Pix[i] = 20000
	}
	whole := [4]layout.PicturePoint{{X: 0, Y: 0}, {X: 600, Y: 0}, {X: 600, Y: 800}, {X: 0, Y: 800}}
	for name, c := range map[string]struct {
		photo   *plane.RGB16
		corners *[4]layout.PicturePoint
		says    string
	}{
		"upside down":     {photo, &turned, "upside down"},
		"something else":  {blank, &whole, "does not show this panel"},
		"another shape":   {plane.NewRGB16(900, 300), nil, "four corners"},
		"small":           {plane.NewRGB16(90, 120), nil, "at least 200"},
		"corner outside":  {photo, &[4]layout.PicturePoint{{X: -5}, {X: 10}, {X: 10, Y: 10}, {Y: 10}}, "corner 1"},
		"corners crossed": {photo, &[4]layout.PicturePoint{corners[0], corners[2], corners[1], corners[3]}, "cross"},
	} {
		t.Run(name, func(t *testing.T) {
			req := p.request(t, c.photo, corners)
			req.Corners = c.corners
			_, err := compare.Panel(t.Context(), req)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestComparingStops(t *testing.T) {
	p := newPanel(t)
	photo, corners := p.shot(t, camera{factor: 1, cast: [3]float64{1, 1, 1}})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := compare.Panel(ctx, p.request(t, photo, corners))
	require.ErrorIs(t, err, context.Canceled)
}

func BenchmarkPanel(b *testing.B) {
	p := newPanel(b)
	photo, corners := p.shot(b, camera{factor: 1.1, cast: [3]float64{1, 1, 1}})
	req := p.request(b, photo, corners)
	b.ReportAllocs()
	for b.Loop() {
		_, err := compare.Panel(context.Background(), req)
		require.NoError(b, err)
	}
}
