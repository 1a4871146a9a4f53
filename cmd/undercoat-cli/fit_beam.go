package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/spf13/cobra"

	"undercoat/imaging/burn"
	"undercoat/imaging/export"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/beam"
	"undercoat/layout"
)

// ofLines tells whether readings are those of a line chart.
func ofLines(r swatch.Readings) bool { return slices.ContainsFunc(r.Swatches, swatch.Reading.IsLine) }

func onlyLines(all []swatch.Readings) bool {
	return len(all) > 0 && !slices.ContainsFunc(all, func(r swatch.Readings) bool { return !ofLines(r) })
}

// linesApart takes the readings of line charts from among others.
func linesApart(all []swatch.Readings) (lines, others []swatch.Readings) {
	for _, r := range all {
		if ofLines(r) {
			lines = append(lines, r)
		} else {
			others = append(others, r)
		}
	}
	return lines, others
}

// beamFound is a found beam as it is printed.
type beamFound struct {
	Width            float64 `json:"beam_width_across_mm"` // D4sigma, twice the radius
	Radius           float64 `json:"beam_radius_mm"`       // at 1/e2 of the peak
	RadiusSD         float64 `json:"beam_radius_standard_error_mm"`
	ThresholdPercent float64 `json:"threshold_power_percent"`
	ThresholdSD      float64 `json:"threshold_power_standard_error_percent"`
	Residual         float64 `json:"residual_mm"`
	Lines            int     `json:"lines"`
	LeftOut          int     `json:"left_out"`
}

// beamAlone finds the beam from the readings of line charts, where there is no curve to
// be found.
func (f *fitFlags) beamAlone(cmd *cobra.Command, lines []swatch.Readings, m *burn.Machine) error {
	if f.save != "" {
		return usageError{fmt.Errorf("--save keeps a stack, and lines tell of the machine: write it with -o, then undercoat-cli library import")}
	}
	if len(lines) > 1 && (f.output != "" || f.json) {
		return usageError{fmt.Errorf("%d charts of lines are given and -o and --json take one: name one", len(lines))}
	}
	if !f.json {
		if err := f.beams(cmd, lines, m); err != nil {
			return err
		}
	}
	found, err := beam.FromLineReadings(lines[0], m)
	if err != nil {
		return err
	}
	if f.output != "" {
		if err := f.writeMachine(cmd, lines[0], m, found); err != nil {
			return err
		}
	}
	if !f.json {
		return nil
	}
	tellDoubts(cmd.ErrOrStderr(), found)
	data, err := json.Marshal(beamFound{
		Width: float64(found.Width), Radius: float64(found.Width) / 2, RadiusSD: float64(found.WidthSD) / 2,
		ThresholdPercent: found.ThresholdPower(), ThresholdSD: found.ThresholdSD,
		Residual: float64(found.ResidualMM), Lines: found.Lines, LeftOut: found.LeftOut,
	})
	if err != nil {
		return err
	}
	_, err = cmd.OutOrStdout().Write(append(data, '\n'))
	return err
}

// beams says what charts of lines tell of the beam. With --json standard output belongs
// to the curve.
func (f *fitFlags) beams(cmd *cobra.Command, lines []swatch.Readings, m *burn.Machine) error {
	out := cmd.OutOrStdout()
	if f.json {
		out = cmd.ErrOrStderr()
	}
	for _, r := range lines {
		found, err := beam.FromLineReadings(r, m)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "beam             %.3f mm wide across the lines (1/e2 radius %.4f mm, standard error %.4f mm), from %d lines\n",
			float64(found.Width), float64(found.Width)/2, float64(found.WidthSD)/2, found.Lines)
		fmt.Fprintf(out, "threshold        a line begins to show at %.1f %% power (standard error %.1f)\n", found.ThresholdPower(), found.ThresholdSD)
		if is := machineOf(r, m); is != nil {
			fmt.Fprintf(out, "machine          %s has %.3f mm across\n", is.Name, float64(is.BeamAcross))
		}
		tellDoubts(cmd.ErrOrStderr(), found)
	}
	return nil
}

// tellDoubts says what makes a found beam unsure.
func tellDoubts(out io.Writer, found beam.ReadLinesFit) {
	const unsure, few = 0.05, 5
	if share := float64(found.WidthSD / found.Width); share > unsure {
		fmt.Fprintf(out, "caution: the beam is known to %.0f %% only, for the widths do not follow one beam: go nearer with the camera, burn more powers, or burn the lines through one coat over a ground that stands out\n", 100*share)
	}
	if found.Lines < few {
		fmt.Fprintf(out, "caution: %d lines tell little of how sure the beam is: measure %d or more\n", found.Lines, few)
	}
}

func machineOf(r swatch.Readings, given *burn.Machine) *burn.Machine {
	if r.Machine != nil {
		return r.Machine
	}
	return given
}

// writeMachine writes the machine with the found beam.
func (f *fitFlags) writeMachine(cmd *cobra.Command, r swatch.Readings, given *burn.Machine, found beam.ReadLinesFit) error {
	is := machineOf(r, given)
	if is == nil {
		return fmt.Errorf("the readings do not say which machine burned the lines: add --machine")
	}
	m := *is
	const step = 0.001 // mm, as finely as a beam is worth writing down
	m.BeamAcross = layout.MM(math.Round(float64(found.Width)/step) * step)
	if f.name != "" {
		m.Name = f.name
	}
	data, err := m.JSON()
	if err != nil {
		return err
	}
	err = export.WriteFile(f.output, f.replace, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "wrote %s: name it as --machine from now on\n", f.output)
	return nil
}
