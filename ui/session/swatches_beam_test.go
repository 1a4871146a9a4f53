package session_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
	"undercoat/ui/session"
)

// request is a chart for a session's job, but for what is burned.
func request(s *session.Session, kind swatch.Kind, powers ...float64) swatch.Request {
	d := s.Document()
	return swatch.Request{
		Machine: d.Machine, Stack: &d.Stack, Kind: kind, Scrap: layout.Size{W: 120, H: 90}, Margin: 3, Powers: powers,
		Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.1}, OneBit: true,
	}
}

// Lines as wide as a Gaussian beam of a known width burns them give that width back.
// Source of the widths: J. M. Liu, Optics Letters 7(5), 1982, 196-198: D^2 = 2 w^2 ln(F/Fth).
func TestTheBeamIsFoundFromLines(t *testing.T) {
	s := open(t, nil)
	chart, err := swatch.New(request(s, swatch.Lines, 10, 20, 40, 60, 80, 100))
	require.NoError(t, err)
	const d4sigma, threshold = 0.12, 15.0
	widths := make([]layout.MM, 6)
	for i, p := range []float64{10, 20, 40, 60, 80, 100} {
		if p -= s.Document().Machine.PowerOffsetPercent; p > threshold {
			w := d4sigma / 2
			widths[i] = layout.MM(math.Sqrt(2 * w * w * math.Log(p/threshold)))
		}
	}
	require.Zero(t, widths[0], "a line below the threshold does not show")
	f, err := session.FitBeamLines(chart, widths)
	require.NoError(t, err)
	require.InDelta(t, d4sigma, float64(f.Across), 1e-6)
	require.Zero(t, f.Along)

	along := s.Document().Machine.BeamAlong
	require.NoError(t, s.UseBeam("beam", f))
	require.Equal(t, along, s.Document().Machine.BeamAlong, "lines tell nothing of it")
	require.InDelta(t, d4sigma, float64(s.Document().Machine.BeamAcross), 1e-9)

	_, err = session.FitBeamLines(chart, widths[1:])
	require.ErrorContains(t, err, "5 widths are given and the chart has 6 lines")
}

// A tint row burned by a wider beam than the machine is said to have tells that beam.
func TestTheBeamIsFoundFromTints(t *testing.T) {
	s := open(t, nil)
	chart, err := swatch.New(request(s, swatch.Tints, 60))
	require.NoError(t, err)
	d := s.Document()
	truly := d.Machine
	truly.BeamAlong, truly.BeamAcross = 1.3*truly.BeamAlong, 1.3*truly.BeamAcross
	looks, err := simulate.Scene{Chart: chart, Machine: truly, Stack: d.Stack, Screen: job.ChartScreen}.Looks(t.Context())
	require.NoError(t, err)
	row := session.ByEye("a tint row", chart, d.Machine)
	require.False(t, row.HasTints())
	for i := range row.Readings.Swatches {
		look := looks[row.Readings.Swatches[i].ID]
		row.Readings.Swatches[i].LinearRGB, row.Readings.Swatches[i].LeftOut = &look, ""
	}
	require.True(t, row.HasTints())

	_, err = s.FitBeam(t.Context(), row)
	require.ErrorContains(t, err, "find and use the curve first")
	require.NoError(t, s.Edit("curve", "", func(doc *job.Document) error { doc.Stack.Curve.Calibrated = true; return nil }))
	f, err := s.FitBeam(t.Context(), row)
	require.NoError(t, err)
	require.InEpsilon(t, float64(truly.BeamAcross), float64(f.Across), 0.03)
	require.InEpsilon(t, float64(truly.BeamAlong), float64(f.Along), 0.03)
}
