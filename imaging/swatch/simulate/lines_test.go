package simulate_test

import (
	"context"
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

// In a plain photograph the pixels past half of the change from bare to burned are
// as many as the true width says.
func TestLinesAreAsWideAsTheirBeamMakesThem(t *testing.T) {
	base := scene(t, 0.1)
	st, m := base.Stack, base.Machine
	m.BeamAcross = 0.4
	c, err := swatch.New(swatch.Request{
		Machine: m, Stack: &st, Kind: swatch.Lines, Scrap: layout.Size{W: 90, H: 60}, Margin: 5, Side: 6,
		Powers: []float64{40, 60, 80, 100}, Speeds: []layout.MMPerSecond{8}, Pitches: []layout.MM{0.1},
	})
	require.NoError(t, err)
	s := simulate.LineScene{Scene: simulate.Scene{Chart: c, Machine: m, Stack: st, W: 1500, H: 1000, Fill: 0.9, Exposure: 1}}
	shot, err := s.Photo(context.Background())
	require.NoError(t, err)
	model, err := st.Compile(coat.Options{})
	require.NoError(t, err)
	threshold := model.BreakThrough(0)
	half := (model.PureLook(0).G + model.PureLook(1).G) / 2
	for _, sw := range c.Swatches {
		want := s.Width(sw, threshold)
		require.Positive(t, want)
		require.InDelta(t, threshold, s.Axis(sw)*s.ThresholdPower(sw, threshold)/sw.Setting.PowerPercent, 1e-6)
		lines, err := c.LineAreas(sw)
		require.NoError(t, err)
		for _, l := range lines {
			p, edge := shot.ToPixel(l.Centre), shot.ToPixel(layout.Point{X: l.Centre.X, Y: l.Centre.Y + 1})
			perMM := p.Y - edge.Y
			seen := burnedAcross(shot.Image, int(p.X), int(p.Y), int(perMM), half)
			require.InDelta(t, float64(want)*perMM, float64(seen), 1.01, sw.ID)
		}
	}
}

func burnedAcross(img *image.RGBA, x, y, reach int, half float64) int {
	n := 0
	for dy := -reach / 2; dy <= reach/2; dy++ {
		if colour.DecodeByte(img.RGBAAt(x, y+dy).G) > half {
			n++
		}
	}
	return n
}

func TestLineSceneRefusesAChartOfSwatches(t *testing.T) {
	_, err := simulate.LineScene{Scene: scene(t, 0.1)}.Photo(context.Background())
	require.ErrorContains(t, err, "no line chart")
}

func TestABlurredLineSceneKeepsItsLight(t *testing.T) {
	sum := func(soft float64) (total float64) {
		s := scene(t, 0.1)
		s.Chart.Kind = swatch.Lines
		s.Noise, s.Desk = 0, s.Stack.Coats[0].Colour.Linear()
		shot, err := simulate.LineScene{Scene: s, Soft: soft}.Photo(context.Background())
		require.NoError(t, err)
		for i := 1; i < len(shot.Image.Pix); i += 4 {
			total += colour.DecodeByte(shot.Image.Pix[i])
		}
		return total
	}
	require.InEpsilon(t, sum(0), sum(3), 0.01)
}
