package job_test

import (
	"context"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// wide is a document for a beam of two pitches on a stack of one coat, whose tints are
// the picture's light: nothing but the screen can make up for the beam.
func wide(t testing.TB, kind screen.Kind) job.Document {
	t.Helper()
	d := byLight(plain(t, 60, 80, 0.1))
	stack, err := job.FindStack("black-on-tile")
	require.NoError(t, err)
	d.Stack = stack
	d.Machine.BeamAlong, d.Machine.BeamAcross = 0.2, 0.2
	d.Screen.Kind = kind
	// Twice the dose at which the coat gives way.
	model, err := stack.Compile(d.LookOptions())
	require.NoError(t, err)
	d.Setting.PowerPercent *= 2 * model.BreakThrough(0) / d.Recipe().FullDose()
	require.NoError(t, d.Validate())
	return d
}

// offTarget is the mean CIEDE2000 between a picture's proof, seen from half a metre,
// and what its tints ask for: that share of the full burn's look, the rest top coat.
func offTarget(t testing.TB, d job.Document, data []byte) float64 {
	t.Helper()
	const distance = 500
	ctx := context.Background()
	j, _, err := job.New(ctx, d, "picture", data)
	require.NoError(t, err)
	v, err := j.Develop(ctx, nil)
	require.NoError(t, err)
	pl, err := j.Document.Placement()
	require.NoError(t, err)
	got, err := v.Proof(ctx, job.ProofRequest{Long: 800, Distance: distance}, nil)
	require.NoError(t, err)
	tints, err := j.Document.Tints(ctx, v.Light, v.Tones, pl.Grid)
	require.NoError(t, err)
	want, err := proof.Distant(ctx, asAsked(tints, v.Table), float64(pl.Panel.Size.W)/float64(tints.W), distance)
	require.NoError(t, err)
	require.Equal(t, got.Rect, want.Rect)
	sum, n := 0.0, 0
	for y := 0; y < got.Rect.Dy(); y += 4 {
		for x := 0; x < got.Rect.Dx(); x += 4 {
			sum += colour.DE2000(at(got, x, y), at(want, x, y))
			n++
		}
	}
	return sum / float64(n)
}

func at(img *image.RGBA, x, y int) colour.Lab {
	c := img.RGBAAt(x, y)
	return colour.Stored{R: c.R, G: c.G, B: c.B}.Linear().Lab()
}

func asAsked(tints *plane.Grey16, table *proof.TintTable) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, tints.W, tints.H))
	bare, burned := table.Look(0), table.Look(math.MaxUint16)
	for y := range tints.H {
		for x, v := range tints.Row(y) {
			c := colour.Mix(bare, burned, float64(v)/math.MaxUint16).Stored()
			copy(img.Pix[img.PixOffset(x, y):], []byte{c.R, c.G, c.B, 255})
		}
	}
	return img
}

// beamPictures are the demo picture, a photograph of Go's own and one of the goldens.
func beamPictures(t testing.TB) map[string][]byte {
	return map[string][]byte{
		"demo":   assets.DemoPicture(),
		"street": withGo(t, "video-001.jpeg"),
		"dunes":  golden(t, "dunes.jpg"),
	}
}

// A screen that knows the beam puts the tones of a picture right that dots which run
// together spoil, and the tint table has nothing left to make up.
func TestBeamAwarePicturesComeNearerToWhatWasAsked(t *testing.T) {
	for name, data := range beamPictures(t) {
		t.Run(name, func(t *testing.T) {
			plainly := offTarget(t, wide(t, screen.FloydSteinberg), data)
			aware := offTarget(t, wide(t, screen.BeamAware), data)
			t.Logf("CIEDE2000 from half a metre: %.2f beam-aware, %.2f with Floyd-Steinberg", aware, plainly)
			require.Less(t, aware, plainly/2)
		})
	}
}

// BenchmarkBeamAware reports the same as figures, beside the time from picture to dots.
func BenchmarkBeamAware(b *testing.B) {
	for name, data := range beamPictures(b) {
		for _, kind := range []screen.Kind{screen.FloydSteinberg, screen.BeamAware} {
			b.Run(name+"/"+string(kind), func(b *testing.B) {
				d := wide(b, kind)
				off := offTarget(b, d, data)
				j, pic, err := job.New(context.Background(), d, name, data)
				require.NoError(b, err)
				v, err := j.Develop(context.Background(), pic)
				require.NoError(b, err)
				pl, err := d.Placement()
				require.NoError(b, err)
				b.SetBytes(int64(pl.Grid.Cols) * int64(pl.Grid.Rows))
				for b.Loop() {
					_, err := v.Raster(context.Background(), pl)
					require.NoError(b, err)
				}
				b.ReportMetric(off, "dE00")
			})
		}
	}
}

func TestASmallChangeOfPowerKeepsTheBeamsTable(t *testing.T) {
	d := wide(t, screen.BeamAware)
	one := d.Recipe().Screen
	require.NotNil(t, one.Cells)
	d.Setting.PowerPercent *= 1.001
	require.True(t, one == d.Recipe().Screen)
	d.Setting.PowerPercent *= 1.1
	require.False(t, one == d.Recipe().Screen)
	d.Setting.Pitch = layout.MM(0.12)
	require.False(t, one.Cells == d.Recipe().Screen.Cells)
}
