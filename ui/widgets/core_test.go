package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	house "undercoat/ui/theme"
)

var demoCoats = []Layer{{"graphite", graphite, 25}, {"teal", teal, 40}, {"cream", cream, 18}}
var demoGround = Layer{Name: "white ground", Colour: ground}

func TestCoreShowsTheCut(t *testing.T) {
	for name, variant := range variants {
		t.Run(name, func(t *testing.T) {
			c := NewCore()
			s := show(t, variant, c, fyne.NewSize(190, 460))
			c.SetStack(demoCoats, demoGround)
			const x, middle = 8, 30 // beside the notch, and in it left of its arrow
			row := measure("Xg", house.New().Size(theme.SizeNameCaptionText), fyne.TextStyle{}).Height + 3
			scale := scaleOf(demoCoats, 10, 460-coreRows*row-10)
			depths := map[float64]colour.Stored{5: graphite, 45: teal, 74: cream, 90: ground}

			img := s.capture("core-whole-" + name)
			for depth, want := range depths {
				y := int(scale.y0 + float32(depth)*scale.perUM)
				require.Equal(t, want, at(img, x, y), "%v um", depth)
				require.Equal(t, want, at(img, middle, y), "%v um, not burned", depth)
			}

			c.SetReading(CoreReading{Where: "at the pointer", Shows: "teal", Look: teal, DoseJCM2: 62, DepthUM: 41})
			img = s.capture("core-burned-" + name)
			air := ofTheme(house.Surround, variant)
			require.Equal(t, air, at(img, middle, int(scale.y0+5*scale.perUM)), "burned away")
			require.Equal(t, air, at(img, middle, int(scale.y0+39*scale.perUM)))
			require.Equal(t, teal, at(img, middle, int(scale.y0+50*scale.perUM)), "below the notch")
			require.Equal(t, graphite, at(img, x, int(scale.y0+5*scale.perUM)), "beside the notch")
			require.Equal(t, teal, at(img, middle, int(scale.at(41))+2), "the look on the floor")

			c.ClearReading()
			require.Equal(t, graphite, at(s.capture("core-closed-"+name), middle, int(scale.y0+5*scale.perUM)))
		})
	}
}

func TestCoreWritesWhatItShows(t *testing.T) {
	c := NewCore()
	show(t, variants["dark"], c, fyne.NewSize(240, 460))
	c.SetStack(demoCoats, demoGround)
	require.Contains(t, texts(t, c), "point at the picture")
	c.SetReading(CoreReading{
		Where: "at the setting", Shows: "teal", Look: teal, DoseJCM2: 6.24, DepthUM: 41.4, Shares: []float64{0.11, 0.82, 0.07, 0},
	})
	require.Subset(t, texts(t, c), []string{
		"graphite", "25 µm · 11 %", "40 µm · 82 %", "ground · 0 %", "at the setting", "teal", "6.2 J/cm²", "41 µm",
	})
}

func TestCoreWithoutAStackIsHarmless(t *testing.T) {
	c := NewCore()
	s := show(t, variants["light"], c, fyne.NewSize(190, 300))
	c.SetReading(CoreReading{DoseJCM2: 5})
	s.capture("core-empty")
	require.Empty(t, texts(t, c))
}

func TestABurnFarIntoTheGroundStaysInTheCut(t *testing.T) {
	s := scaleOf(demoCoats, 10, 300)
	require.Less(t, s.at(1e6), s.y1)
	none := scaleOf([]Layer{{Name: "bare"}}, 10, 300)
	require.Equal(t, float32(10), none.at(50))
}

func TestCoreLabelsMoveApart(t *testing.T) {
	labels := []coreLabel{{middle: 20}, {middle: 24}, {middle: 28}, {middle: 195}}
	apart(labels, 30, 200)
	for i := 1; i < len(labels); i++ {
		require.GreaterOrEqual(t, labels[i].y, labels[i-1].y+30)
	}
	require.LessOrEqual(t, labels[3].y+30, float32(200))
}

func TestAmounts(t *testing.T) {
	nan := 0.0
	nan /= nan
	for want, v := range map[string]float64{"0.0": 0, "6.2": 6.24, "9.9": 9.94, "10": 9.96, "62": 62.4, "128": 128, "–": nan} {
		require.Equal(t, want, amount(v))
	}
	for v, want := range map[float64]float64{0.3: 0.5, 1: 1, 1.01: 2, 1.5: 2, 3: 5, 7: 10, 45: 50} {
		require.InEpsilon(t, want, roundStep(v), 1e-9, "%v", v)
	}
}
