package job_test

import (
	"fmt"
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// codes are the stored greys whose light is all, a half, a quarter and none.
// Source: IEC 61966-2-1:1999, by arithmetic: 255, 188, 137, 0.
var codes = [4]uint8{255, 188, 137, 0}

var light = [4]float64{1, 0.5, 0.25, 0}

// near is how far the dots of an even field may be from its tint: a code is a
// 256th, and a screen keeps a field's mean to a dot an edge.
const near = 0.01

// two is a stack of one coat over a ground.
func two(top, ground colour.Stored) coat.Stack {
	return coat.Stack{
		Kind: coat.Kind, Version: coat.Version, Name: "two",
		Coats:  []coat.Coat{{Name: "top", Colour: top, ThicknessUM: 25}},
		Ground: coat.Ground{Name: "ground", Colour: ground},
		Curve: coat.Curve{
			Points: []coat.Point{{DoseJCM2: 20, DepthUM: 0}, {DoseJCM2: 50, DepthUM: 25}, {DoseJCM2: 100, DepthUM: 40}},
			Spread: []float64{0.15},
		},
	}
}

var (
	black = colour.Stored{R: 30, G: 30, B: 32}
	white = colour.Stored{R: 240, G: 240, B: 235}
)

// The burn uncovers what lies beneath: where that is lighter the bright parts of
// the picture burn, where it is darker the dark parts do, unless the maker says
// otherwise.
func TestWayRound(t *testing.T) {
	starter := func(name string) coat.Stack {
		s, err := job.FindStack(name)
		require.NoError(t, err)
		return s
	}
	for _, c := range []struct {
		name   string
		stack  coat.Stack
		bright bool
	}{
		{"dark over light", two(black, white), true},
		{"light over dark", two(white, black), false},
		{"graphite, teal, sunflower over white", starter("graphite-teal-sunflower"), true},
		{"slate over cream", starter("slate-cream"), true},
		{"black on a white tile", starter("black-on-tile"), true},
		{"chalk over moss and pine", starter("chalk-moss-pine"), false},
	} {
		for _, tones := range []job.Tones{job.TonesLight, job.TonesEven} {
			t.Run(fmt.Sprintf("%s, %s", c.name, tones), func(t *testing.T) {
				d := plain(t, 60, 40, 0.2)
				d.Stack, d.Picture.Tones = c.stack, tones
				asStack := burnedQuarters(t, d, job.BurnsByStack)
				bright, dark := burnedQuarters(t, d, job.BurnsBright), burnedQuarters(t, d, job.BurnsDark)
				chosen, other := bright, dark
				if !c.bright {
					chosen, other = dark, bright
				}
				require.Equal(t, chosen, asStack, "by the stack")
				for i := range 3 { // from the brightest quarter to the darkest
					require.GreaterOrEqual(t, bright[i], bright[i+1], "bright burns")
					require.LessOrEqual(t, dark[i], dark[i+1], "dark burns")
				}
				require.Greater(t, bright[0], bright[3]+0.2)
				require.Greater(t, dark[3], dark[0]+0.2)
				if tones == job.TonesLight {
					for i := range light {
						require.InDelta(t, light[i], bright[i], near)
						require.InDelta(t, 1-chosen[i], other[i], 2*near, "overruling inverts")
					}
				} else {
					// Black and white change places: what burned most burns least.
					require.InDelta(t, chosen[0], other[3], near)
					require.InDelta(t, chosen[3], other[0], near)
				}
				require.Contains(t, why(t, d), map[bool]string{true: "bright parts burn", false: "dark parts burn"}[c.bright])
				d.Picture.Burns = job.BurnsDark
				require.Equal(t, "dark parts burn, as chosen", why(t, d))
			})
		}
	}
}

func burnedQuarters(t *testing.T, d job.Document, b job.Burns) [4]float64 {
	t.Helper()
	d.Picture.Burns = b
	dir, _ := prepared(t, withPicture(t, d, "quarters.png", quarters(t, 60, 40, codes)), job.RasterOutput)
	return shares(raster(t, dir))
}

func why(t *testing.T, d job.Document) string {
	t.Helper()
	tints, err := proof.NewTintTable(t.Context(), d.Recipe())
	require.NoError(t, err)
	return d.BurnsWhy(tints)
}

// TestWayRoundFollowsTheSetting burns a stack which turns lighter at first and,
// with more light, much darker than it was: grey over white over black. Which way
// round is right depends on how far the setting reaches.
func TestWayRoundFollowsTheSetting(t *testing.T) {
	s := two(colour.Stored{R: 120, G: 120, B: 120}, black)
	s.Coats = append(s.Coats, coat.Coat{Name: "white", Colour: white, ThicknessUM: 25})
	s.Curve.Points = []coat.Point{{DoseJCM2: 20, DepthUM: 0}, {DoseJCM2: 50, DepthUM: 25}, {DoseJCM2: 150, DepthUM: 50}, {DoseJCM2: 200, DepthUM: 60}}
	s.Curve.Spread = []float64{0.15, 0.15}
	for _, c := range []struct {
		power  float64
		bright bool
		why    string
	}{
		{30, true, "at this setting the burn turns the panel lighter: bright parts burn"},
		{80, false, "ground lies beneath white and is darker: dark parts burn"},
	} {
		for _, tones := range []job.Tones{job.TonesLight, job.TonesEven} {
			t.Run(fmt.Sprintf("%g %%, %s", c.power, tones), func(t *testing.T) {
				d := plain(t, 60, 40, 0.08)
				d.Stack, d.Setting.PowerPercent, d.Picture.Tones = s, c.power, tones
				got := burnedQuarters(t, d, job.BurnsByStack)
				require.Equal(t, c.bright, got[0] > got[3], "%v", got)
				require.Equal(t, c.why, why(t, d))
			})
		}
	}
}

// TestTurnsAndMirror follows the four quarters of a lying picture round. Which
// quarter goes where is written out by hand.
func TestTurnsAndMirror(t *testing.T) {
	const ul, ur, ll, lr = 0, 1, 2, 3
	for _, c := range []struct {
		quarterTurns int
		mirror       bool
		want         [4]int // which quarter of the picture comes to each quarter of the raster
	}{
		{0, false, [4]int{ul, ur, ll, lr}},
		{1, false, [4]int{ll, ul, lr, ur}}, // clockwise
		{2, false, [4]int{lr, ll, ur, ul}},
		{3, false, [4]int{ur, lr, ul, ll}},
		{0, true, [4]int{ur, ul, lr, ll}},
		{1, true, [4]int{ul, ll, ur, lr}}, // mirrored after turning
		{2, true, [4]int{ll, lr, ul, ur}},
		{3, true, [4]int{lr, ur, ll, ul}},
	} {
		t.Run(fmt.Sprintf("%d quarters, mirror %v", c.quarterTurns, c.mirror), func(t *testing.T) {
			d := byLight(plain(t, 60, 40, 0.2))
			if c.quarterTurns%2 == 1 {
				d.Panel.Size = layout.Size{W: 40, H: 60}
			}
			data := quarters(t, 60, 40, codes)
			j, pic, err := job.New(t.Context(), d, "quarters.png", data)
			require.NoError(t, err)
			j.Document.Picture.QuarterTurns, j.Document.Picture.Mirror = c.quarterTurns, c.mirror
			w, h := pic.Size(j.Document.Picture.Turn())
			j.Document.Picture.Crop = layout.Crop{W: float64(w), H: float64(h)}
			require.NoError(t, j.Document.CheckCrop(pic))
			dir, _ := prepared(t, j, job.RasterOutput)
			got := shares(raster(t, dir))
			for i, from := range c.want {
				require.InDelta(t, light[from], got[i], near, "quarter %d of the raster", i)
			}
		})
	}
}

// TestCropShowsThePartAskedFor cuts one quarter, or a part over several, out of
// the picture.
func TestCropShowsThePartAskedFor(t *testing.T) {
	for _, c := range []struct {
		name string
		crop layout.Crop
		want [4]float64
	}{
		// A pixel is left out at the inner edges: it blends with its neighbour.
		{"upper left", layout.Crop{X: 0, Y: 0, W: 57, H: 38}, [4]float64{1, 1, 1, 1}},
		{"upper right", layout.Crop{X: 62, Y: 1.5, W: 57, H: 38}, [4]float64{0.5, 0.5, 0.5, 0.5}},
		{"lower left", layout.Crop{X: 0.5, Y: 42, W: 57, H: 38}, [4]float64{0.25, 0.25, 0.25, 0.25}},
		{"lower right", layout.Crop{X: 63, Y: 42, W: 57, H: 38}, [4]float64{0, 0, 0, 0}},
		{"the middle", layout.Crop{X: 30, Y: 20, W: 60, H: 40}, light},
		{"all", layout.Crop{X: 0, Y: 0, W: 120, H: 80}, light},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := byLight(plain(t, 60, 40, 0.2))
			j := withPicture(t, d, "quarters.png", quarters(t, 120, 80, codes))
			j.Document.Picture.Crop = c.crop
			dir, _ := prepared(t, j, job.RasterOutput)
			r := raster(t, dir)
			got := shares(r)
			require.InDeltaSlice(t, c.want[:], got[:], near)
			if c.name == "lower right" {
				// The screen begins with the grain of a tint that goes on beyond the edge,
				// so a stray dot may stand there.
				require.Less(t, burned(r, image.Rect(0, 0, 300, 200)), 1e-3, "next to nothing burns in black")
			}
		})
	}
	t.Run("out of the picture", func(t *testing.T) {
		j := withPicture(t, byLight(plain(t, 60, 40, 0.2)), "quarters.png", quarters(t, 120, 80, codes))
		j.Document.Picture.Crop = layout.Crop{X: 90, Y: 20, W: 60, H: 40}
		_, err := job.Prepare(t.Context(), j, job.Request{Dir: t.TempDir()})
		require.ErrorContains(t, err, "picture.crop: crop 90,20,60,40 reaches out of the picture of 120 x 80 pixels")
	})
}
