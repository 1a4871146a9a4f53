package beam_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/beam"
	"undercoat/layout"
)

// lineReadings are exact widths of lines of a beam 0.2 mm wide that begin to show
// at 15 % of power, on a machine without light up to 5 %.
func lineReadings() swatch.Readings {
	m := burn.Machine{
		Name: "made up", OpticalPowerW: 5, PowerOffsetPercent: 5, BeamAlong: 0.08, BeamAcross: 0.1, Bed: layout.Size{W: 400, H: 400},
		RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100, SkipsBlank: true,
	}
	real := beam.LineFit{Width: 0.2, Threshold: 10}
	r := swatch.Readings{Machine: &m}
	for i, power := range []float64{10, 20, 40, 60, 80} {
		s := swatch.Reading{
			ID: string(rune('A'+i)) + "1", OpticalPowerW: 5,
			Setting: burn.Setting{PowerPercent: power, Speed: 25, Pitch: 0.1, Passes: 1},
			Width:   real.WidthAt(power - 5),
		}
		if s.Width == 0 {
			s.LeftOut = "too faint"
		}
		r.Swatches = append(r.Swatches, s)
	}
	return r
}

func TestFromLineReadingsCountsPowerFromTheOffset(t *testing.T) {
	r := lineReadings()
	f, err := beam.FromLineReadings(r, nil)
	require.NoError(t, err)
	require.InEpsilon(t, 0.2, float64(f.Width), 1e-9)
	require.InEpsilon(t, 15, f.ThresholdPower(), 1e-9)
	require.Equal(t, 4, f.Lines)
	require.Equal(t, 1, f.LeftOut)

	m := r.Machine
	r.Machine = nil
	f, err = beam.FromLineReadings(r, m)
	require.NoError(t, err)
	require.InEpsilon(t, 15, f.ThresholdPower(), 1e-9)
}

func TestFromLineReadingsRefusesWhatTellsNothing(t *testing.T) {
	for want, change := range map[string]func(*swatch.Readings){
		"different speeds or passes": func(r *swatch.Readings) { r.Swatches[2].Setting.Speed = 50 },
		"gives no light":             func(r *swatch.Readings) { r.Swatches[2].Setting.PowerPercent = 4 },
		"measure 3 or more":          func(r *swatch.Readings) { r.Swatches = r.Swatches[:3] },
	} {
		r := lineReadings()
		change(&r)
		_, err := beam.FromLineReadings(r, nil)
		require.ErrorContains(t, err, want)
	}
}
