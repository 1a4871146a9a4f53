package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Source: the technical data of an alkyd enamel, page 412402 of a maker's manual:
// 42 to 43 % solids by volume cover 675 to 690 square feet a US gallon at 1 mil
// dry.
func TestCoverageMeetsADataSheet(t *testing.T) {
	const gallonL, mil = 3.785411784, 25.4
	for solids, sheet := range map[float64]float64{42: 675, 43: 690} {
		got, err := CoverageM2PerLitre(solids, mil)
		require.NoError(t, err)
		require.InDelta(t, sheet, got*gallonL/squareFootM2, 1.5, "rounded by the sheet to 5 square feet")
	}
	for _, bad := range [][2]float64{{0, 25}, {101, 25}, {42, 0}, {42, 2001}, {math.NaN(), 25}, {42, math.NaN()}} {
		_, err := CoverageM2PerLitre(bad[0], bad[1])
		requireSentence(t, err)
	}
}

// By hand. Source of the size: colorbay.com, canvas sizes, 16x20 in, 1-1/2 in deep.
func TestPainted(t *testing.T) {
	got := Panel{Kind: Canvas, Size: Size{406.4, 508}, EdgeDepth: 38.1}.Painted()
	require.InDelta(t, 0.2064512, got.FaceM2, 1e-9)
	require.InDelta(t, 2*0.9144*0.0381, got.EdgeM2, 1e-9)
	require.InDelta(t, 0.2761285, got.TotalM2(), 1e-6)
}

func TestNeeds(t *testing.T) {
	panel := Panel{Kind: Tile, Size: Size{1000, 1000}}
	can := Can{CoversM2: 2, Lost: 0.5, AtUM: 20}
	got, err := panel.Needs([]CoatWork{
		{Name: "graphite", ThicknessUM: 25, Can: can},
		{Name: "white", ThicknessUM: 20, Can: can},
		{Name: "graphite", ThicknessUM: 15, Can: can},
		{Name: "teal", Can: can},
	})
	require.NoError(t, err)
	for i, want := range []Need{
		{"graphite", 1, 1.25, 2}, {"white", 1, 1, 1}, {"graphite", 1, 0.75, 0}, {"teal", 1, 1, 1},
	} {
		require.Equal(t, want.Coat, got[i].Coat)
		require.InDelta(t, want.AreaM2, got[i].AreaM2, 1e-12)
		require.InDelta(t, want.Cans, got[i].Cans, 1e-12)
		require.Equal(t, want.ToBuy, got[i].ToBuy)
	}
}

// Source: what sellers say of a 12 oz can: 10 to 15 square feet, ft46m.site.
func TestUsualCan(t *testing.T) {
	panel := Panel{Kind: Board, Size: Size{304.8, 304.8}} // a square foot
	got, err := panel.Needs([]CoatWork{{Name: "white"}})
	require.NoError(t, err)
	lossless := got[0].Cans * (1 - UsualLoss)
	require.GreaterOrEqual(t, lossless, 1.0/15)
	require.LessOrEqual(t, lossless, 1.0/10)
	require.Equal(t, 1, got[0].ToBuy)
}

func TestNeedsRefuses(t *testing.T) {
	panel := Panel{Kind: Board, Size: Size{300, 300}}
	nan := math.NaN()
	for name, work := range map[string]CoatWork{
		"thickness NaN": {ThicknessUM: nan}, "thickness negative": {ThicknessUM: -1},
		"covers negative": {Can: Can{CoversM2: -1}}, "covers NaN": {Can: Can{CoversM2: nan}},
		"all lost": {Can: Can{Lost: 1}}, "at NaN": {Can: Can{AtUM: nan}},
	} {
		t.Run(name, func(t *testing.T) {
			work.Name = "white"
			_, err := panel.Needs([]CoatWork{work})
			requireSentence(t, err)
			require.ErrorContains(t, err, "coat 1 (white)")
		})
	}
	_, err := Panel{}.Needs(nil)
	requireSentence(t, err)
}
