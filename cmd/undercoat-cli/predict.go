package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
)

// prediction is what predict prints.
type prediction struct {
	DoseJCM2   float64   `json:"dose_j_per_cm2"`
	DepthUM    float64   `json:"depth_um"`
	Coverage   []float64 `json:"coverage"` // coats from the top down, then the ground
	SRGB       string    `json:"srgb"`
	Calibrated bool      `json:"calibrated"`
}

func newPredict() *cobra.Command {
	f := &settingFlags{}
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "predict",
		Short:   "Predict what a setting uncovers on an even, solid field",
		Long:    "Predict gives the dose of a setting, how deep it burns, what shows and the colour\nof it, for an even solid field under this machine's beam.",
		Example: "  undercoat-cli predict --power 30 --speed 1500mm/min --pitch 0.08mm --json",
		Args:    exactly(0, "no arguments besides its flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			stack, machine, setting, err := f.resolve()
			if err != nil {
				return err
			}
			p, err := predict(cmd, stack, machine, setting)
			if err != nil {
				return err
			}
			if asJSON {
				return json.NewEncoder(cmd.OutOrStdout()).Encode(p)
			}
			p.print(cmd.OutOrStdout(), stack)
			return nil
		},
	}
	f.add(cmd)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object")
	return cmd
}

func predict(cmd *cobra.Command, stack coat.Stack, machine burn.Machine, setting burn.Setting) (prediction, error) {
	tints, err := proof.NewTintTable(cmd.Context(), proof.Recipe{
		Stack: stack, Machine: machine, Setting: setting, Screen: screen.Options{Kind: screen.FloydSteinberg},
	})
	if err != nil {
		return prediction{}, err
	}
	// The full tint is the even solid field, its values averaged over the ripple
	// that the beam leaves.
	const solid = math.MaxUint16
	return prediction{
		DoseJCM2:   tints.Recipe().FullDose(),
		DepthUM:    tints.Core(solid).DepthUM,
		Coverage:   tints.Coverage(solid),
		SRGB:       tints.Look(solid).Stored().String(),
		Calibrated: stack.Curve.Calibrated,
	}, nil
}

func (p prediction) print(w io.Writer, stack coat.Stack) {
	fmt.Fprintf(w, "dose    %.2f J/cm2\n", p.DoseJCM2)
	fmt.Fprintf(w, "depth   %.1f um\n", p.DepthUM)
	fmt.Fprintf(w, "colour  %s\n", p.SRGB)
	for i, share := range p.Coverage {
		name := stack.Ground.Name
		if i < len(stack.Coats) {
			name = stack.Coats[i].Name
		}
		fmt.Fprintf(w, "%5.1f %% %s\n", 100*share, name)
	}
	if !p.Calibrated {
		fmt.Fprintln(w, export.Uncalibrated)
	}
}
