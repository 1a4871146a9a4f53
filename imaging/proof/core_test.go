package proof_test

import (
	"context"
	"math"
	"testing"
	"undercoat/imaging/burn"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
)

func TestCore(t *testing.T) {
	s := threeCoats()
	m, err := s.Compile(coat.Options{})
	require.NoError(t, err)
	for dose, left := range map[float64][]float64{
		0:   {25, 25, 30},
		20:  {25, 25, 30},
		45:  {0, 25, 30},
		85:  {0, 0, 30},
		140: {0, 0, 0},
	} {
		c := proof.Core(m, dose)
		require.Equal(t, dose, c.DoseJCM2)
		require.Len(t, c.Coats, 3)
		shows := c.GroundShows
		for i, want := range left {
			require.InDelta(t, want, c.Coats[i].LeftUM, 1e-9, "coat %d at %g", i, dose)
			require.Equal(t, s.Coats[i].Name, c.Coats[i].Name)
			require.Equal(t, s.Coats[i].Colour, c.Coats[i].Colour)
			require.Equal(t, s.Coats[i].ThicknessUM, c.Coats[i].ThicknessUM)
			shows += c.Coats[i].Shows
		}
		require.InDelta(t, 1, shows, 1e-9)
		require.Equal(t, m.Look(dose), c.Look)
		require.False(t, c.Calibrated)
	}
	half := proof.Core(m, m.BreakThrough(0))
	require.InDelta(t, 0.5, half.Coats[0].Shows, 1e-9)
	// What the burn takes away is its depth.
	c := proof.Core(m, 60)
	gone := 0.0
	for _, l := range c.Coats {
		gone += l.ThicknessUM - l.LeftUM
	}
	require.InDelta(t, c.DepthUM, gone, 1e-9)
}

func TestCoreAtAPoint(t *testing.T) {
	bits := dots(t, even(40, 40, math.MaxUint16), screen.Options{})
	bits.Pix[20*bits.Stride+2] &^= 0x08 // the dot (20, 20)
	r := recipe(threeCoats())
	on, err := proof.CoreAt(context.Background(), r, burn.OneBit(bits), 10.5, 10.51)
	require.NoError(t, err)
	require.Greater(t, on.DoseJCM2, r.FullDose(), "on a line the dose is above its mean")
	between, err := proof.CoreAt(context.Background(), r, burn.OneBit(bits), 10.5, 10.01)
	require.NoError(t, err)
	require.Less(t, between.DoseJCM2, r.FullDose(), "between two lines below")
	hole, err := proof.CoreAt(context.Background(), r, burn.OneBit(bits), 20.5, 20.51)
	require.NoError(t, err)
	require.Less(t, hole.DoseJCM2, on.DoseJCM2/2)
	require.Less(t, hole.DepthUM, on.DepthUM)
	_, err = proof.CoreAt(context.Background(), r, burn.OneBit(bits), 0, 39.999)
	require.NoError(t, err)
	for _, p := range [][2]float64{{-0.1, 3}, {3, 40}, {math.NaN(), 3}, {3, math.Inf(1)}} {
		_, err := proof.CoreAt(context.Background(), r, burn.OneBit(bits), p[0], p[1])
		require.ErrorContains(t, err, "does not lie in the raster of 40 x 40 dots")
	}
}

func TestCoreOfATint(t *testing.T) {
	r := recipe(threeCoats())
	table := table(t, r)
	for _, tint := range []uint16{0, 13107, 32768, 60000, math.MaxUint16} {
		c := table.Core(tint)
		require.InDelta(t, r.FullDose()*float64(tint)/math.MaxUint16, c.DoseJCM2, 0.1, "the mean dose is the tint's share of the full one")
		require.Equal(t, table.Look(tint), c.Look)
		require.Equal(t, table.Coverage(tint)[3], c.GroundShows)
	}
	require.Zero(t, table.Core(0).DepthUM)
	require.Greater(t, table.Core(math.MaxUint16).DepthUM, table.Core(32768).DepthUM)
}
