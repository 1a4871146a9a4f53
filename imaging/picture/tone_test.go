package picture

import (
	"context"
	"encoding/json"
	"math"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

func curveOf(t require.TestingT, points ...CurvePoint) Curve {
	c, err := NewCurve(points...)
	require.NoError(t, err)
	return c
}

// everyPart is a tone with all its parts at work.
func everyPart(t require.TestingT) Tone {
	return Tone{
		Noise: Noise{Strength: 3, Radius: 0.4},
		Local: LocalContrast{Limit: 2, Tile: 20},
		Black: 4, White: 95, Mid: 0.2, Contrast: 0.3,
		Curve:   curveOf(t, CurvePoint{0, 0}, CurvePoint{40, 36}, CurvePoint{100, 100}),
		Sharpen: Sharpen{Radius: 0.2, Amount: 0.8, Threshold: 0.5},
	}
}

func TestNoToneChangesNothingToTheBit(t *testing.T) {
	light := lightFrom(256, 256, func(x, y int) uint16 { return uint16(256*y + x) }) // every light there is
	for name, tone := range map[string]Tone{
		"zero":                  {},
		"white named":           {White: 100},
		"parts that do nothing": {Noise: Noise{Radius: 1}, Local: LocalContrast{Limit: 1, Tile: 20}, Sharpen: Sharpen{Radius: 1}},
	} {
		out := applied(t, tone, light, 3)
		if name == "white named" { // through lightness and back: within the two steps that costs
			for i, v := range out.Pix {
				require.InDelta(t, light.Pix[i], v, 2)
			}
			continue
		}
		require.Equal(t, light.Pix, out.Pix, name)
		require.True(t, tone.Pointwise(), name)
		require.NotSame(t, &light.Pix[0], &out.Pix[0], "the plane is new")
	}
}

func TestToneLeavesItsInputAlone(t *testing.T) {
	light := toneScene(64, 48, 1)
	before := slices.Clone(light.Pix)
	applied(t, everyPart(t), light, 5)
	require.Equal(t, before, light.Pix)
}

func TestAPointwiseToneIsItsTable(t *testing.T) {
	tone := Tone{Black: 3, Mid: 0.4, Contrast: -0.3, Curve: curveOf(t, CurvePoint{10, 0}, CurvePoint{90, 100})}
	require.True(t, tone.Pointwise())
	curve := table(t, tone)
	for _, size := range [][2]int{{0, 0}, {0, 5}, {5, 0}, {1, 1}, {300, 1}, {13, 200}} {
		light := lightFrom(size[0], size[1], func(x, y int) uint16 { return uint16((x + 300*y) * 7919) })
		for i, v := range applied(t, tone, light, 3).Pix {
			require.Equal(t, curve[light.Pix[i]], v)
		}
	}
}

func TestEveryPartOnOddSizes(t *testing.T) {
	for _, size := range [][2]int{{0, 0}, {0, 5}, {5, 0}, {1, 1}, {300, 1}, {1, 300}, {2, 2}, {13, 200}} {
		for _, perMM := range []float64{0.01, 0.5, 4, 40} {
			applied(t, everyPart(t), toneScene(size[0], size[1], 1), perMM)
		}
	}
}

// Noise and sharpening leave an even area as it is, to the bit.
func TestAnEvenAreaStays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Uint16().Draw(t, "light")
		tone := Tone{
			Noise:   Noise{Strength: rapid.Float64Range(0.1, 20).Draw(t, "strength"), Radius: layout.MM(rapid.Float64Range(0.05, 3).Draw(t, "radius"))},
			Sharpen: Sharpen{Radius: layout.MM(rapid.Float64Range(0.01, 2).Draw(t, "blur")), Amount: rapid.Float64Range(0.1, 5).Draw(t, "amount")},
		}
		light := lightFrom(rapid.IntRange(1, 50).Draw(t, "w"), rapid.IntRange(1, 50).Draw(t, "h"), func(_, _ int) uint16 { return v })
		require.Equal(t, light.Pix, applied(t, tone, light, rapid.Float64Range(0.1, 30).Draw(t, "per mm")).Pix)
	})
}

// The order is the documented one: the whole is its parts one after another.
func TestTheOrderOfTheParts(t *testing.T) {
	all := everyPart(t)
	light := toneScene(128, 96, 1)
	step := applied(t, Tone{Noise: all.Noise}, light, 2)
	step = applied(t, Tone{Local: all.Local}, step, 2)
	step = applied(t, all.points(), step, 2)
	step = applied(t, Tone{Sharpen: all.Sharpen}, step, 2)
	require.Equal(t, step.Pix, applied(t, all, light, 2).Pix)
	require.False(t, all.Pointwise())
	require.True(t, all.points().Pointwise())
}

func halved(g *plane.Grey16) *plane.Grey16 {
	return lightFrom(g.W/2, g.H/2, func(x, y int) uint16 {
		a, b := g.Row(2 * y)[2*x:], g.Row(2*y + 1)[2*x:]
		return uint16((uint32(a[0]) + uint32(a[1]) + uint32(b[0]) + uint32(b[1]) + 2) / 4)
	})
}

// enlarged is a plane n times larger, straight lines between the centres of its pixels.
func enlarged(g *plane.Grey16, n int) *plane.Grey16 {
	at := func(i, side int) (int, int, float64) {
		p := math.Min(math.Max((float64(i)+0.5)/float64(n)-0.5, 0), float64(side-1))
		return int(p), min(int(p)+1, side-1), p - math.Floor(p)
	}
	return lightFrom(n*g.W, n*g.H, func(x, y int) uint16 {
		left, right, u := at(x, g.W)
		top, bottom, v := at(y, g.H)
		high := float64(g.Row(top)[left])*(1-u) + float64(g.Row(top)[right])*u
		low := float64(g.Row(bottom)[left])*(1-u) + float64(g.Row(bottom)[right])*u
		return uint16(high*(1-v) + low*v + 0.5)
	})
}

// A view and the raster look alike: toned at twice the size and then halved, or
// halved and then toned, a picture with slow tones, edges and stripes is the same
// within the stated L*, on the mean and for all but one pixel in a hundred. The
// picture has no detail near the raster's dots, as one enlarged to a raster has not:
// what halving takes away no tone can bring back.
func TestTheSameLookAtTwoSizes(t *testing.T) {
	_, light := greyOf(t, read(t, "dunes.jpg"), Turn{})
	light = enlarged(halved(halved(light)), 4)
	const perMM = 8 // a panel of 187 x 125 mm
	all := everyPart(t)
	for _, c := range []struct {
		name         string
		tone         Tone
		mean, nearly float64
	}{
		{"table", all.points(), 0.01, 0.1},
		{"noise", Tone{Noise: all.Noise}, 0.02, 0.2},
		{"local contrast", Tone{Local: all.Local}, 0.3, 1.5},
		{"sharpening", Tone{Sharpen: all.Sharpen}, 0.02, 0.3},
		{"all", all, 0.3, 1.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			want := halved(applied(t, c.tone, light, perMM))
			got := applied(t, c.tone, halved(light), perMM/2)
			apart := make([]float64, len(want.Pix))
			mean := 0.0
			for i := range apart {
				apart[i] = math.Abs(lstarOf(float64(want.Pix[i])) - lstarOf(float64(got.Pix[i])))
				mean += apart[i] / float64(len(apart))
			}
			slices.Sort(apart)
			nearly := apart[len(apart)*99/100]
			t.Logf("mean %.3f, 99 in a hundred within %.2f, largest %.2f of L*", mean, nearly, apart[len(apart)-1])
			require.LessOrEqual(t, mean, c.mean)
			require.LessOrEqual(t, nearly, c.nearly)
		})
	}
}

func TestToneIsTheSameOnAnyNumberOfCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	light := toneScene(170, 111, 1)
	var first []uint16
	for _, cores := range []int{1, 2, 3, 5, 16} {
		runtime.GOMAXPROCS(cores)
		out := applied(t, everyPart(t), light, 7)
		if first == nil {
			first = out.Pix
		}
		require.Equal(t, first, out.Pix)
	}
}

func TestToneStopsWithItsContext(t *testing.T) {
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	all := everyPart(t)
	for name, tone := range map[string]Tone{
		"none": {}, "table": all.points(), "noise": {Noise: all.Noise}, "local": {Local: all.Local}, "sharpen": {Sharpen: all.Sharpen},
	} {
		_, err := tone.Apply(ended, toneScene(50, 40, 1), 3)
		require.ErrorIs(t, err, context.Canceled, name)
	}

	light := benchLight()
	for name, tone := range map[string]Tone{"noise": {Noise: all.Noise}, "local": {Local: all.Local}, "sharpen": {Sharpen: all.Sharpen}} {
		ctx, cancel := context.WithCancel(context.Background())
		done := make(chan error, 1)
		go func() {
			_, err := tone.Apply(ctx, light, 12.5)
			done <- err
		}()
		cancel()
		select {
		case err := <-done:
			require.ErrorIs(t, err, context.Canceled, name)
		case <-time.After(2 * time.Second):
			t.Fatalf("%s is still at work two seconds after the end", name)
		}
	}
}

func TestToneApplyRefuses(t *testing.T) {
	light := toneScene(4, 4, 1)
	for _, perMM := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := Tone{}.Apply(context.Background(), light, perMM)
		require.ErrorContains(t, err, "pixels a mm is not possible")
		_, err = Tone{}.Ready(context.Background(), light, perMM)
		require.ErrorContains(t, err, "pixels a mm is not possible")
	}
	_, err := Tone{Mid: 2}.Apply(context.Background(), light, 1)
	require.ErrorContains(t, err, "middle tones 2 is outside -1..1")
	_, err = Tone{Sharpen: Sharpen{Amount: 1}}.Apply(context.Background(), light, 1)
	require.ErrorContains(t, err, "sharpening radius 0 mm is outside 0.01 to 2 mm")
	for _, s := range []Sharpen{{Radius: 1, Amount: 6}, {Radius: 1, Amount: 1, Threshold: -1}, {Radius: 3, Amount: 1}, {Radius: 1, Amount: math.NaN()}} {
		require.ErrorContains(t, Tone{Sharpen: s}.Validate(), "is outside")
	}
}

func TestToneInFiles(t *testing.T) {
	all := everyPart(t)
	data, err := json.Marshal(all)
	require.NoError(t, err)
	require.JSONEq(t, `{
		"noise": {"strength": 3, "radius_mm": 0.4},
		"local_contrast": {"limit": 2, "tile_mm": 20},
		"black": 4, "white": 95, "mid_tone": 0.2, "contrast": 0.3,
		"curve": [[0, 0], [40, 36], [100, 100]],
		"sharpen": {"radius_mm": 0.2, "amount": 0.8, "threshold": 0.5}
	}`, string(data))
	var back Tone
	require.NoError(t, json.Unmarshal(data, &back))
	require.True(t, all == back, "tones compare with ==")

	data, err = json.Marshal(Tone{})
	require.NoError(t, err)
	require.JSONEq(t, `{"black": 0, "white": 0, "mid_tone": 0, "contrast": 0}`, string(data))
}
