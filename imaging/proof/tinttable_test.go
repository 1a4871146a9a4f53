package proof_test

import (
	"context"
	"fmt"
	"image"
	"math"
	"sort"
	"testing"
	"undercoat/imaging/burn"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// A field is an even tint with a rim above that a screen needs to settle, and
// one about it that the beam reaches in from; its look is that of the inner part.
const (
	fieldTop  = 192
	fieldRim  = 16
	fieldSide = 200
)

func field(t testing.TB, r proof.Recipe, tint uint16) *plane.Bits {
	t.Helper()
	return dots(t, even(fieldSide+2*fieldRim, fieldTop+fieldSide+fieldRim, tint), r.Screen)
}

func exactLook(t testing.TB, r proof.Recipe, bits *plane.Bits) colour.Linear {
	t.Helper()
	inner := image.Rect(fieldRim, fieldTop, fieldRim+fieldSide, fieldTop+fieldSide)
	// The pixels are rounded to stored values; over many the rounding evens out.
	const pixels = fieldSide / 5
	img, err := proof.Exact(context.Background(), r, burn.OneBit(bits), inner, pixels, pixels, nil)
	require.NoError(t, err)
	var sum colour.Linear
	for y := range pixels {
		for x := range pixels {
			sum = sum.Add(at(img, x, y).Linear().Scale(1.0 / (pixels * pixels)))
		}
	}
	return sum
}

// The tint table stands in for the exact proof while a maker drags a slider; this
// is how closely the two agree.
func TestTintTableAgainstTheExactProof(t *testing.T) {
	tints := []uint16{0, 3000, 9000, 17000, 21845, 32768, 44000, 56000, math.MaxUint16}
	settings := []struct {
		beam  layout.MM
		power float64
	}{{0.05, 20}, {0.08, 60}, {0.08, 30}, {0.12, 40}, {0.2, 80}}
	var over []float64 // all screens
	for _, kind := range screen.Kinds() {
		tints, settings := tints, settings
		if kind != screen.FloydSteinberg { // the rest go by the same way: fewer will do
			// Not the very middle, across whose step the table of the threshold runs straight.
			tints, settings = []uint16{3000, 17000, 33000, 56000}, settings[1:4:4]
		}
		t.Run(string(kind), func(t *testing.T) {
			base := recipe(threeCoats())
			base.Screen.Kind = kind
			fields := make(map[uint16]*plane.Bits)
			for _, tint := range tints {
				fields[tint] = field(t, base, tint)
			}
			var all []float64
			last := table(t, base)
			for _, set := range settings {
				for _, stack := range []coat.Stack{darkOnLight(), threeCoats(), lightOnDark(), upAndDown(), fourCoats(t)} {
					r := recipe(stack)
					r.Screen.Kind = kind
					r.Machine.BeamAlong, r.Machine.BeamAcross = set.beam, set.beam*1.25
					r.Setting.PowerPercent = set.power
					now, err := last.With(context.Background(), r)
					require.NoError(t, err)
					for tint, bits := range fields {
						all = append(all, colour.DE2000(exactLook(t, r, bits).Lab(), now.Look(tint).Lab()))
					}
					last = now
				}
			}
			median, _ := spreadOf(t, all)
			require.Less(t, median, 0.5)
			over = append(over, all...)
		})
	}
	median, high := spreadOf(t, over)
	require.Less(t, median, 0.5)
	require.Less(t, high, 1.5)
}

func spreadOf(t *testing.T, differences []float64) (median, high float64) {
	t.Helper()
	sort.Float64s(differences)
	n := len(differences)
	median, high = differences[n/2], differences[n*95/100]
	t.Logf("%d looks: CIEDE2000 median %.3f, 95th percentile %.3f, largest %.3f", n, median, high, differences[n-1])
	return median, high
}

// fourCoats is a starter stack.
func fourCoats(t *testing.T) coat.Stack {
	t.Helper()
	data, ok := assets.Stack("sunset-four")
	require.True(t, ok)
	s, err := coat.ReadStack(data)
	require.NoError(t, err)
	return s
}

func TestEndsOfTheTintTable(t *testing.T) {
	for _, stack := range []coat.Stack{darkOnLight(), threeCoats()} {
		r := recipe(stack)
		table := table(t, r)
		require.Equal(t, stack.Coats[0].Colour, table.Look(0).Stored())
		require.InDelta(t, 1, table.Coverage(0)[0], 1e-6)
		for tint := 0; tint <= math.MaxUint16; tint += 771 {
			sum := 0.0
			for _, share := range table.Coverage(uint16(tint)) {
				require.GreaterOrEqual(t, share, 0.0)
				sum += share
			}
			require.InDelta(t, 1, sum, 1e-4, "tint %d", tint)
		}
	}
}

// Source: S. D. Poisson's sum over the lines of a Gaussian beam; the shares of
// area follow from averaging the log-normal loss over the field of doses, and from
// taking it at the mean dose, for lines 0.08 mm apart, a mean of 125 J/cm2 and
// a spread of 0.1.
func TestLooksAreAveragedOverTheFieldOfDoses(t *testing.T) {
	for _, c := range []struct {
		radius, breakThrough float64 // mm, J/cm2
		field, meanDose      float64
	}{
		{0.06, 140, .1986, .1286},
		{0.04, 160, .3242, .0068},
		{0.08, 140, .1296, .1286},
	} {
		t.Run(fmt.Sprintf("radius %g mm", c.radius), func(t *testing.T) {
			s := darkOnLight()
			s.Curve.Points = []coat.Point{{DoseJCM2: 40}, {DoseJCM2: c.breakThrough, DepthUM: 25}}
			s.Curve.Spread = []float64{0.1}
			r := recipe(s)
			r.Machine.BeamAlong, r.Machine.BeamAcross = layout.MM(2*c.radius), layout.MM(2*c.radius)
			r.Setting.PowerPercent = 50
			require.InDelta(t, 125, r.FullDose(), 1e-9)
			// Eight samples from line to line are what the finest grid takes.
			require.InDelta(t, c.field, table(t, r).Coverage(math.MaxUint16)[1], 0.01)
			m, err := s.Compile(coat.Options{})
			require.NoError(t, err)
			require.InDelta(t, c.meanDose, m.ShowThrough(125).Coverage[1], 1e-4)
		})
	}
}

func TestTableWithoutLight(t *testing.T) {
	r := recipe(threeCoats())
	r.Machine.PowerOffsetPercent, r.Setting.PowerPercent = 10, 8
	require.Zero(t, r.FullDose())
	require.Equal(t, r.Stack.Coats[0].Colour, table(t, r).Look(math.MaxUint16).Stored())
}

func TestWithIsANewTable(t *testing.T) {
	first := table(t, recipe(threeCoats()))
	changes := map[string]func(*proof.Recipe){
		"power":     func(r *proof.Recipe) { r.Setting.PowerPercent = 61 },
		"speed":     func(r *proof.Recipe) { r.Setting.Speed = 31 },
		"passes":    func(r *proof.Recipe) { r.Setting.Passes = 2 },
		"pitch":     func(r *proof.Recipe) { r.Setting.Pitch = 0.1 },
		"beam":      func(r *proof.Recipe) { r.Machine.BeamAcross = 0.15 },
		"grid":      func(r *proof.Recipe) { r.Grid = 2 },
		"finish":    func(r *proof.Recipe) { r.Options.Finish = coat.Gloss },
		"thickness": func(r *proof.Recipe) { r.Stack, _ = r.Stack.Thicker(1.2) },
		"colour":    func(r *proof.Recipe) { r.Stack = upAndDown() },
	}
	for name, change := range changes {
		t.Run(name, func(t *testing.T) {
			r := first.Recipe()
			change(&r)
			again, err := first.With(context.Background(), r)
			require.NoError(t, err)
			anew := table(t, r)
			require.NotEqual(t, first.Look(40000), again.Look(40000))
			for tint := 0; tint <= math.MaxUint16; tint += 257 {
				require.Equal(t, anew.Look(uint16(tint)), again.Look(uint16(tint)))
			}
		})
	}
}

func TestTintTableRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(*proof.Recipe)
		want  string
	}{
		"stack":   {func(r *proof.Recipe) { r.Stack.Coats[0].ThicknessUM = math.NaN() }, "coats[0].thickness_um"},
		"machine": {func(r *proof.Recipe) { r.Machine.OpticalPowerW = -1 }, "optical_power_w"},
		"setting": {func(r *proof.Recipe) { r.Setting.PowerPercent = 101 }, "power_percent 101"},
		"screen":  {func(r *proof.Recipe) { r.Screen.Kind = "chalk" }, `unknown screen "chalk"`},
		"grid":    {func(r *proof.Recipe) { r.Grid = 9 }, "grid 9"},
		"finish":  {func(r *proof.Recipe) { r.Options.Finish = "wax" }, `finish "wax"`},
	} {
		t.Run(name, func(t *testing.T) {
			r := recipe(threeCoats())
			c.spoil(&r)
			_, err := proof.NewTintTable(context.Background(), r)
			require.ErrorContains(t, err, c.want)
		})
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := proof.NewTintTable(ctx, recipe(threeCoats()))
	require.ErrorIs(t, err, context.Canceled)
}

func TestPaintIsTheTableAtEveryPixel(t *testing.T) {
	table := table(t, recipe(threeCoats()))
	for _, size := range []image.Point{{}, {X: 1, Y: 1}, {X: 300, Y: 1}, {X: 1, Y: 40}, {X: 97, Y: 55}} {
		tints := picture(size.X, size.Y)
		img, err := table.Paint(context.Background(), tints)
		require.NoError(t, err)
		require.Equal(t, size, img.Rect.Size())
		for y := range size.Y {
			for x := range size.X {
				want, got := table.Look(tints.Row(y)[x]).Stored(), at(img, x, y)
				require.InDelta(t, want.R, got.R, 1)
				require.InDelta(t, want.G, got.G, 1)
				require.InDelta(t, want.B, got.B, 1)
				require.Equal(t, uint8(255), img.RGBAAt(x, y).A)
			}
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := table.Paint(ctx, plane.NewGrey16(10, 10))
	require.ErrorIs(t, err, context.Canceled)
}

func TestPictureCoverage(t *testing.T) {
	table := table(t, recipe(threeCoats()))
	half := plane.NewGrey16(2, 1)
	half.Pix[1] = math.MaxUint16
	none, full := table.Coverage(0), table.Coverage(math.MaxUint16)
	for l, share := range table.PictureCoverage(half) {
		require.InDelta(t, (none[l]+full[l])/2, share, 1e-6)
	}
	require.Len(t, table.PictureCoverage(plane.NewGrey16(0, 0)), 4)
}
