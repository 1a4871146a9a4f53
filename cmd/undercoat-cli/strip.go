package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

type stripFlags struct {
	output, powers, keepTop, reach string
	width                          int
	replace, json                  bool
}

func newStrip() *cobra.Command {
	f := &stripFlags{}
	cmd := &cobra.Command{
		Use:   "strip JOB.undercoat [-o STRIP.png]",
		Short: "Proof a job at several powers side by side, to pick from",
		Long: "Strip proofs the picture at each of a list of powers, with the share of the picture\n" +
			"area on which each coat shows and the burn time beneath. It can also suggest a power:\n" +
			"the one which leaves a wanted share of the top coat, or which just reaches a coat.",
		Example: "  undercoat-cli strip boat.undercoat -o strip.png --powers 20:60:10\n" +
			"  undercoat-cli strip boat.undercoat --keep-top 40% --json",
		Args: exactly(1, "one job"),
		RunE: func(cmd *cobra.Command, args []string) error { return f.run(cmd, args[0]) },
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.output, "output", "o", "", "the PNG file to write (default: none, figures only)")
	flags.StringVar(&f.powers, "powers", "", "powers in percent: from:to:step, or a list with commas (default: about the job's own)")
	flags.StringVar(&f.keepTop, "keep-top", "", "suggest the power that leaves this share of the top coat, as 40%")
	flags.StringVar(&f.reach, "reach", "", "suggest the power at which the deepest parts just reach this coat, by name, or ground")
	flags.IntVar(&f.width, "width", 360, "pixels across each proof, 64 to 2000")
	flags.BoolVar(&f.replace, "force", false, "replace the file if it is there")
	flags.BoolVar(&f.json, "json", false, "print one JSON object")
	return cmd
}

// stripReport is what strip prints.
type stripReport struct {
	Layers     []string    `json:"layers"` // coats from the top down, then the ground
	Proofs     []stripStep `json:"proofs"`
	Suggested  *float64    `json:"suggested_power_percent,omitempty"`
	Calibrated bool        `json:"calibrated"`
}

type stripStep struct {
	PowerPercent float64   `json:"power_percent"`
	DoseJCM2     float64   `json:"dose_j_per_cm2"`
	Coverage     []float64 `json:"coverage"`
	BurnTimeS    float64   `json:"burn_time_s"`
}

func (f *stripFlags) run(cmd *cobra.Command, path string) error {
	if f.width < 64 || f.width > 2000 {
		return fmt.Errorf("width is %d pixels: choose 64 to 2000", f.width)
	}
	if f.output != "" {
		if err := pngName(f.output); err != nil {
			return err
		}
	}
	j, err := readJob(cmd, path)
	if err != nil {
		return err
	}
	powers, err := f.powerList(j.Document)
	if err != nil {
		return err
	}
	v, err := j.Develop(cmd.Context(), nil)
	if err != nil {
		return err
	}
	suggested, err := f.suggest(cmd, v)
	if err != nil {
		return err
	}
	if suggested != nil && !slices.Contains(powers, *suggested) {
		powers = append(powers, *suggested)
		slices.Sort(powers)
	}
	steps, err := v.Strip(cmd.Context(), powers, f.width)
	if err != nil {
		return err
	}
	if f.output != "" {
		if err := f.write(cmd, j.Document, steps, suggested); err != nil {
			return err
		}
	}
	return f.print(cmd.OutOrStdout(), j.Document, steps, suggested)
}

// powerList reads --powers; left out, it is five powers about the job's own.
func (f *stripFlags) powerList(d job.Document) ([]float64, error) {
	if f.powers == "" {
		var out []float64
		for _, factor := range []float64{0.6, 0.8, 1, 1.2, 1.4} {
			out = append(out, min(100, math.Round(d.Setting.PowerPercent*factor*10)/10))
		}
		return slices.Compact(out), nil
	}
	out, err := parsePowers(f.powers)
	if err != nil {
		return nil, err
	}
	for _, p := range out {
		s := d.Setting
		s.PowerPercent = p
		if err := s.Validate(d.Machine); err != nil {
			return nil, fmt.Errorf("powers: %w", err)
		}
	}
	return out, nil
}

// maxPowers bounds a strip: more cannot be told apart by eye.
const maxPowers = 24

// parsePowers reads from:to:step or a list with commas.
func parsePowers(text string) ([]float64, error) {
	wrong := fmt.Errorf("powers %q are not of the form from:to:step or a list: write, for instance, 20:60:10 or 20,25,30", text)
	if !strings.Contains(text, ":") {
		out, err := numbers(text)
		if err != nil {
			return nil, wrong
		}
		return out, tooMany(len(out))
	}
	v, err := numbers(strings.ReplaceAll(text, ":", ","))
	if err != nil || len(v) != 3 || !(v[2] > 0) || v[1] < v[0] {
		return nil, wrong
	}
	n := math.Floor((v[1]-v[0])/v[2]+1e-9) + 1
	if n > maxPowers {
		return nil, tooMany(int(min(n, 1e6)))
	}
	out := make([]float64, int(n))
	for i := range out {
		out[i] = math.Round((v[0]+float64(i)*v[2])*1e6) / 1e6
	}
	return out, nil
}

func tooMany(n int) error {
	if n > maxPowers {
		return fmt.Errorf("a strip of %d powers is too long: ask for at most %d", n, maxPowers)
	}
	return nil
}

// suggest finds the power asked for, rounded up to a tenth of a percent; nil if
// none was.
func (f *stripFlags) suggest(cmd *cobra.Command, v *job.Developed) (*float64, error) {
	var power float64
	var err error
	switch {
	case f.keepTop != "" && f.reach != "":
		return nil, usageError{fmt.Errorf("--keep-top and --reach cannot go together: choose one")}
	case f.keepTop != "":
		share, perr := parsePercent(f.keepTop)
		if perr != nil {
			return nil, fmt.Errorf("keep-top: %w", perr)
		}
		power, err = v.SuggestKeepTop(cmd.Context(), share/100)
	case f.reach != "":
		power, err = v.SuggestReach(cmd.Context(), f.reach)
	default:
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	power = min(100, math.Ceil(power*10-1e-9)/10)
	return &power, nil
}

// layerNames are the coats from the top down and the ground.
func layerNames(s coat.Stack) []string {
	var out []string
	for _, c := range s.Coats {
		out = append(out, c.Name)
	}
	return append(out, s.Ground.Name)
}

func (f *stripFlags) write(cmd *cobra.Command, d job.Document, steps []job.StripStep, suggested *float64) error {
	names := layerNames(d.Stack)
	var proofs []proof.Labelled
	for _, s := range steps {
		lines := []string{percent(s.PowerPercent) + " power"}
		if suggested != nil && s.PowerPercent == *suggested {
			lines[0] += ", suggested"
		}
		for i, share := range s.Coverage {
			lines = append(lines, fmt.Sprintf("%.0f %% %s", 100*share, names[i]))
		}
		lines = append(lines, "burns at most "+layout.FormatDuration(s.BurnTime))
		proofs = append(proofs, proof.Labelled{Image: s.Image, Lines: lines})
	}
	sheet, err := proof.SideBySide(proofs)
	if err != nil {
		return err
	}
	return writeProof(cmd, f.output, f.replace, d, sheet, 0)
}

func (f *stripFlags) print(w io.Writer, d job.Document, steps []job.StripStep, suggested *float64) error {
	report := stripReport{Layers: layerNames(d.Stack), Suggested: suggested, Calibrated: d.Stack.Curve.Calibrated}
	for _, s := range steps {
		report.Proofs = append(report.Proofs, stripStep{s.PowerPercent, s.DoseJCM2, s.Coverage, s.BurnTime.Seconds()})
	}
	if f.json {
		return json.NewEncoder(w).Encode(report)
	}
	for _, s := range steps {
		line := fmt.Sprintf("%7s  %6.1f J/cm2", percent(s.PowerPercent), s.DoseJCM2)
		for i, share := range s.Coverage {
			line += fmt.Sprintf("  %s %.0f %%", report.Layers[i], 100*share)
		}
		fmt.Fprintln(w, line+"  burns at most "+layout.FormatDuration(s.BurnTime))
	}
	if suggested != nil {
		fmt.Fprintf(w, "suggested power %s\n", percent(*suggested))
	}
	if !report.Calibrated {
		fmt.Fprintln(w, export.Uncalibrated)
	}
	return nil
}

func percent(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) + " %" }
