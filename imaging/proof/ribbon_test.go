package proof_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/proof"
)

func TestTheRibbonAgreesWithTheTableAtEveryPower(t *testing.T) {
	first := table(t, recipe(threeCoats()))
	ribbon, err := first.Ribbon(first.RibbonEnd(), 512)
	require.NoError(t, err)
	for _, power := range []float64{5, 17, 40, 80} {
		r := first.Recipe()
		r.Setting.PowerPercent = power
		want := table(t, r).Core(math.MaxUint16)
		got := ribbon.At(r.FullDose())
		require.InDelta(t, r.FullDose(), got.DoseJCM2, 1e-9)
		require.InDelta(t, want.DepthUM, got.DepthUM, 1e-4)
		for i := range want.Coats {
			require.InDelta(t, want.Coats[i].Shows, got.Coats[i].Shows, 2e-3, "coat %d at %g %%", i, power)
		}
		require.InDelta(t, want.Look.Y(), got.Look.Y(), 1e-6)
	}
}

func TestTheRibbonBeginsUntouched(t *testing.T) {
	s := threeCoats()
	first := table(t, recipe(s))
	ribbon, err := first.Ribbon(200, 101)
	require.NoError(t, err)
	require.Equal(t, s.Coats[0].Colour, at(ribbon.Looks, 0, 0))
	require.Equal(t, ribbon.At(100).Look.Stored(), at(ribbon.Looks, 50, 0))
	require.Equal(t, 1.0, ribbon.At(0).Coats[0].Shows)
	require.Equal(t, 260.0, ribbon.ScorchJCM2)
	require.Len(t, ribbon.Breaks, 3)
	require.InDelta(t, 45, ribbon.Breaks[0].DoseJCM2, 0.1, "where the curve reaches 25 um")
	require.Zero(t, ribbon.Breaks[0].HighJCM2, "nobody has measured how far off that may be")

	s.Curve.BreakThroughSD = []float64{0.05, 0.05, 0.05}
	s.Curve.ScorchDoseJCM2 = 0
	ribbon, err = table(t, recipe(s)).Ribbon(200, 101)
	require.NoError(t, err)
	require.Less(t, ribbon.Breaks[0].LowJCM2, 45.0)
	require.Greater(t, ribbon.Breaks[0].HighJCM2, 45.0)
	require.True(t, math.IsInf(ribbon.ScorchJCM2, 1))
}

func TestWhatIsNoRibbonIsRefused(t *testing.T) {
	first := table(t, recipe(darkOnLight()))
	for name, full := range map[string]float64{"none": 0, "negative": -1, "no number": math.NaN(), "endless": math.Inf(1)} {
		_, err := first.Ribbon(full, 100)
		require.ErrorContains(t, err, "give a dose above 0", name)
	}
	_, err := first.Ribbon(100, 1)
	require.ErrorContains(t, err, "choose 2 to")
}

func TestTheRibbonEndsWhereThereIsNothingMoreToSee(t *testing.T) {
	// Full power gives 250 J/cm2; the last of the three coats gives way at 140.
	require.InDelta(t, 250, table(t, recipe(threeCoats())).RibbonEnd(), 1e-6, "scorching at 260 is past full power")
	strong := recipe(threeCoats())
	strong.Machine.OpticalPowerW *= 4
	require.InDelta(t, 1.15*260, table(t, strong).RibbonEnd(), 1e-6, "and else a little past scorching")
	far := recipe(darkOnLight()) // gives way at 50, scorches at 400
	far.Machine.OpticalPowerW *= 4
	require.InDelta(t, 75, table(t, far).RibbonEnd(), 0.5, "which is left out where it is far")
}

func TestDoseSharesCountTheWholePicture(t *testing.T) {
	first := table(t, recipe(threeCoats()))
	full := first.Recipe().FullDose()
	tints := picture(120, 90)
	// Fine bins over all that the beam's ripple can give.
	const end, bins = 3.0, 30000
	shares := first.DoseShares(tints, end*full, bins)
	sum, mean := 0.0, 0.0
	for i, s := range shares {
		require.GreaterOrEqual(t, s, 0.0)
		sum += s
		mean += s * (float64(i) + 0.5) / bins * end * full
	}
	require.InDelta(t, 1, sum, 1e-5)
	want := 0.0
	for _, v := range tints.Pix {
		want += float64(v) / math.MaxUint16 * full / float64(len(tints.Pix))
	}
	require.InDelta(t, want, mean, 0.01*full, "the mean dose is the mean tint's")

	all := first.DoseShares(tints, full/1000, 10)
	require.Greater(t, all[9], 0.5, "what gets more counts in the last bin")
	none := first.DoseShares(even(8, 8, 0), full, 10)
	require.InDelta(t, 1, none[0], 1e-6, "what gets none in the first")
}

func TestPowerForIsTheDoseTheOtherWayRound(t *testing.T) {
	r := recipe(threeCoats())
	r.Machine.PowerOffsetPercent = 8
	for _, power := range []float64{8.5, 20, 61.3, 100} {
		r.Setting.PowerPercent = power
		require.InDelta(t, power, r.PowerFor(r.FullDose()), 1e-9)
	}
	require.InDelta(t, 8, r.PowerFor(0), 1e-9, "no light comes up to the offset")
}

func TestCoatMapsShowEachLayerWhereItIsSeen(t *testing.T) {
	first := table(t, recipe(threeCoats()))
	tints := even(9, 7, 0)
	tints.Row(3)[4] = math.MaxUint16
	maps, err := first.CoatMaps(t.Context(), tints)
	require.NoError(t, err)
	require.Len(t, maps, 4)
	require.Equal(t, []string{"graphite", "teal", "cream", "white ground"}, []string{maps[0].Name, maps[1].Name, maps[2].Name, maps[3].Name})
	burned := first.Coverage(math.MaxUint16)
	sum := 0.0
	for i, m := range maps {
		sum += m.Share
		wanted := burned[i] / 63
		if i == 0 {
			wanted += 62.0 / 63
		}
		require.InDelta(t, wanted, m.Share, 1e-6, m.Name)
		behind := proof.Ink
		if i == 0 {
			behind = proof.Paper // graphite would be lost on ink
		}
		look := first.Model().PureLook(i)
		want := colour.Mix(behind.Linear(), look, burned[i]).Stored()
		require.Equal(t, want, at(m.Image, 4, 3), m.Name)
	}
	require.InDelta(t, 1, sum, 1e-6)
	require.Equal(t, first.Model().PureLook(0).Stored(), at(maps[0].Image, 0, 0), "untouched, it is all there")
	require.Equal(t, proof.Ink, at(maps[3].Image, 0, 0))
}
