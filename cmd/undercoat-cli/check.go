package main

import (
	"encoding/json"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"undercoat/imaging/burn"
	"undercoat/imaging/job"
	"undercoat/layout"
)

func newCheck() *cobra.Command {
	var asJSON, equal bool
	cmd := &cobra.Command{
		Use:     "check JOB.undercoat",
		Short:   "Check a job without preparing it: size, fit, time, cautions",
		Long:    "Check reads a job, looks at its picture, and says what its raster will be, whether\nit fits the machine, how long it burns at most, and what to beware of. It writes nothing.",
		Example: "  undercoat-cli check boat.undercoat\n  undercoat-cli check boat.undercoat --equal-dose",
		Args:    exactly(1, "one job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			j, err := readJob(cmd, args[0])
			if err != nil {
				return err
			}
			note, err := job.Check(cmd.Context(), j)
			if err != nil {
				return err
			}
			if equal {
				return printEqualDose(cmd.OutOrStdout(), j.Document, asJSON)
			}
			if asJSON {
				data, err := note.JSON()
				if err != nil {
					return err
				}
				_, err = cmd.OutOrStdout().Write(data)
				return err
			}
			fmt.Fprint(cmd.OutOrStdout(), note.Text(j.Document.UnitOf()))
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the placement as JSON")
	cmd.Flags().BoolVar(&equal, "equal-dose", false, "instead list other speeds and pitches with the power that gives the same dose, and their burn times")
	return cmd
}

// equalStep is one row of the table of settings of equal dose.
type equalStep struct {
	PowerPercent  float64 `json:"power_percent"`
	SpeedMMPerMin float64 `json:"speed_mm_per_min"`
	PitchMM       float64 `json:"pitch_mm"`
	BurnTimeS     float64 `json:"burn_time_s"`
}

func printEqualDose(w io.Writer, d job.Document, asJSON bool) error {
	table, err := d.EqualDose()
	if err != nil {
		return err
	}
	if asJSON {
		report := struct {
			Settings []equalStep `json:"equal_dose_settings"`
			Caution  string      `json:"caution"`
		}{Caution: burn.EqualDoseCaution}
		for _, e := range table {
			report.Settings = append(report.Settings, equalStep{
				e.Setting.PowerPercent, e.Setting.Speed.PerMinute(), float64(e.Setting.Pitch), e.Time.Seconds(),
			})
		}
		return json.NewEncoder(w).Encode(report)
	}
	for _, e := range table {
		fmt.Fprintf(w, "%5.1f %% power  %6.0f mm/min  %.4g mm pitch  at most %s\n",
			e.Setting.PowerPercent, e.Setting.Speed.PerMinute(), float64(e.Setting.Pitch), layout.FormatDuration(e.Time))
	}
	_, err = fmt.Fprintln(w, "caution: "+burn.EqualDoseCaution)
	return err
}
