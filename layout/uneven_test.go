package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Source: pixelcraft.photo.blog, viewing distance and resolution: d = 3438 h, so
// that 300 dots per inch merge from 11.46 in on and 24 in take 0.00698 in. The
// millimetres follow by arithmetic.
func TestAcuity(t *testing.T) {
	for from, want := range map[MM]float64{250: 0.072722, 300: 0.087266, 500: 0.145444, 1000: 0.290888, 2000: 0.581776} {
		require.InDelta(t, want, float64(Resolved(from)), 5e-7)
	}
	require.InDelta(t, 0.00698, float64(Resolved(24*Inch)/Inch), 5e-6)
	require.InDelta(t, 1.0/300, float64(Resolved(11.46*Inch)/Inch), 2e-6)
}

func TestUnevenShows(t *testing.T) {
	for _, test := range []struct {
		name string
		u    Uneven
		from MM
		want bool
	}{
		{"none", Uneven{Of: 3}, 300, false},
		{"wide enough and a good share", Uneven{By: 1, Of: 3}, 2000, true},
		{"too fine for the eye", Uneven{By: 0.5, Of: 3}, 2000, false},
		{"the same from nearer", Uneven{By: 0.5, Of: 3}, 1000, true},
		{"too small a share of a wide border", Uneven{By: 1, Of: 30}, 500, false},
	} {
		t.Run(test.name, func(t *testing.T) { require.Equal(t, test.want, test.u.Shows(test.from)) })
	}
}

func TestLeastBorder(t *testing.T) {
	panel := Size{300, 200}
	for _, test := range []struct {
		name string
		slip Slip
		care Care
		from MM
		want float64
	}{
		{"nothing slips", Slip{}, FineCare, 500, 0},
		{"1 mm, plainly: 2 mm of difference", Slip{X: 1}, PlainCare, 2000, 2},
		{"1 mm, good", Slip{Y: -1}, GoodCare, 2000, 6},
		{"1 mm, fine", Slip{X: 1, Y: 0.5}, FineCare, 2000, 20},
		{"too fine to be seen from there", Slip{X: 0.2}, FineCare, 2000, 0.2},
		{"a turn", Slip{Degrees: 0.2}, PlainCare, 2000, 300 * math.Sin(0.2*math.Pi/180)},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := LeastBorder(panel, test.slip, test.care, test.from)
			require.NoError(t, err)
			require.InDelta(t, test.want, float64(got), 1e-9)
		})
	}
	for name, refuse := range map[string]func() (MM, error){
		"panel":    func() (MM, error) { return LeastBorder(Size{}, Slip{}, FineCare, 500) },
		"slip":     func() (MM, error) { return LeastBorder(panel, Slip{X: MM(math.NaN())}, FineCare, 500) },
		"care":     func() (MM, error) { return LeastBorder(panel, Slip{}, "utmost", 500) },
		"distance": func() (MM, error) { return LeastBorder(panel, Slip{}, FineCare, MM(math.NaN())) },
		"no room":  func() (MM, error) { return LeastBorder(panel, Slip{X: 30}, FineCare, 500) },
	} {
		t.Run(name, func(t *testing.T) {
			got, err := refuse()
			require.Zero(t, got)
			requireSentence(t, err)
		})
	}
}

// With the least border the raster stays on the panel and keeps to the care.
func TestLeastBorderIsEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		panel := Panel{Kind: Board, Size: Size{MM(rapid.Float64Range(150, 900).Draw(t, "w")), MM(rapid.Float64Range(150, 900).Draw(t, "h"))}}
		slip := Slip{
			X: MM(rapid.Float64Range(-2, 2).Draw(t, "x")), Y: MM(rapid.Float64Range(-2, 2).Draw(t, "y")),
			Degrees: rapid.Float64Range(-0.3, 0.3).Draw(t, "degrees"),
		}
		care := rapid.SampledFrom([]Care{PlainCare, GoodCare, FineCare}).Draw(t, "care")
		from := MM(rapid.Float64Range(300, 5000).Draw(t, "from"))
		least, err := LeastBorder(panel.Size, slip, care, from)
		if err != nil {
			return // no room
		}
		pl, err := Place(panel, Even(least), 0.05)
		require.NoError(t, err)
		got, err := pl.Slipped(slip)
		require.NoError(t, err)
		const dots = 0.05 // whole dots make the raster a little larger
		for _, left := range sides(got.Least) {
			require.GreaterOrEqual(t, left, -dots)
		}
		share, err := care.share()
		require.NoError(t, err)
		if got.Uneven.By >= Resolved(from)+dots {
			require.LessOrEqual(t, float64(got.Uneven.By), share*float64(least)+dots)
		}
	})
}
