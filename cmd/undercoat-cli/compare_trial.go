package main

import (
	"encoding/json"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"undercoat/imaging/compare"
	"undercoat/imaging/job"
)

// trialComparison is what compare prints of a trial.
type trialComparison struct {
	Pieces      []compare.PieceResult `json:"pieces"`
	MeantPower  float64               `json:"meant_power_percent"`
	Closest     float64               `json:"closest_power_percent"`
	Dose        compare.DoseFactor    `json:"dose"`
	Disagree    bool                  `json:"pieces_disagree"`
	CloserPower float64               `json:"closer_power_percent"` // 0: none in range
	Words       []string              `json:"words"`
	Calibrated  bool                  `json:"calibrated"`
}

// runTrial compares a photograph of a burned trial. Nothing is written where the
// photograph or the folder is not what it should be.
func (f *compareFlags) runTrial(cmd *cobra.Command, photoPath string) error {
	if cmd.Flags().Changed("record") {
		return usageError{errors.New("--record keeps a finished panel in its job, and a trial is none: leave it out")}
	}
	t, err := job.ReadTrial(f.trial)
	if err != nil {
		return err
	}
	data, err := readFile(cmd, photoPath)
	if err != nil {
		return err
	}
	o, err := f.options()
	if err != nil {
		return err
	}
	bar := newProgress(cmd.ErrOrStderr())
	o.Progress = bar.show
	r, err := compare.Trial(cmd.Context(), t, photoPath, data, o)
	bar.clear()
	if err != nil {
		return err
	}
	if err := f.writeTrial(t, r); err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	if f.json {
		return json.NewEncoder(out).Encode(trialComparison{
			r.Pieces, r.MeantPower, r.Closest, r.Dose, r.Disagree, r.CloserPower, r.Words, t.Scrap.Stack.Curve.Calibrated,
		})
	}
	for _, w := range r.Words {
		fmt.Fprintln(out, w)
	}
	return nil
}

// writeTrial writes what was asked for. A trial that no dose explains says nothing of the
// curve.
func (f *compareFlags) writeTrial(t *job.TrialFolder, r *compare.TrialResult) error {
	if f.update != "" && r.Dose.AtTheEdge {
		return fmt.Errorf("%s: no curve is written from it", r.Words[len(r.Pieces)])
	}
	if err := f.writeMap(r.Sheet()); err != nil {
		return err
	}
	return f.writeUpdate(t.Scrap.Stack, r.Dose)
}
