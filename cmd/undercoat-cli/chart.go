package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

type chartFlags struct {
	dir, stack, machine           string
	powers, speeds, pitch, passes string
	scrap, margin, side           string
	kind, tints                   string
	oneBit, replace, json         bool
}

func newChart() *cobra.Command {
	f := &chartFlags{}
	cmd := &cobra.Command{
		Use:   "chart --powers RANGE -o DIR",
		Short: "Make a chart of swatches to burn, for finding the curve",
		Long: "Chart lays out test squares over a range of powers, and speeds, pitches and passes if\n" +
			"given several, on a scrap painted like the panel. It writes a raster for each setting,\n" +
			"all of one size so that they line up when centred on the same spot, or one of eight\n" +
			"bits for a machine with a power for each dot; " + job.ChartFile + " for reading a photograph of it\n" +
			"later; and " + job.ChartSheetFile + " to take to the machine.\n" +
			"A chart of even tints at one power (--kind tints) tells how much the beam makes dots\n" +
			"grow, one of single lines (--kind lines) how wide the beam is.",
		Example: "  undercoat-cli chart --powers 5:60:5 --speeds 1500mm/min --pitch 0.08mm --scrap 120x90mm -o chart",
		Args:    exactly(0, "no arguments besides its flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := needed(cmd, "output", "powers"); err != nil {
				return err
			}
			return f.run(cmd)
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.dir, "output", "o", "", "the folder to write to; made if missing")
	flags.StringVar(&f.stack, "stack", "", "stack painted on the scrap: an entry's name or a JSON file (default: the first starter entry)")
	flags.StringVar(&f.machine, "machine", "", "machine: an entry's name or a JSON file (default: the first starter entry)")
	flags.StringVar(&f.powers, "powers", "", "powers in percent: 5:60:5 from 5 to 60 in steps of 5, or 10,20,30")
	flags.StringVar(&f.speeds, "speeds", "1500mm/min", "one speed or several, as 1500mm/min or 1000,1500mm/min")
	flags.StringVar(&f.pitch, "pitch", "0.08mm", "one pitch or several, as 0.08mm, 318dpi or 0.08,0.1mm")
	flags.StringVar(&f.passes, "passes", "1", "one number of passes or several, as 1 or 1,2")
	flags.StringVar(&f.scrap, "scrap", "120x90mm", "width x height of the painted scrap")
	flags.StringVar(&f.margin, "margin", "3mm", "kept free along its edges")
	flags.StringVar(&f.side, "side", "", "side of a swatch (default: as large as fits, from 10 down to 5 mm)")
	flags.StringVar(&f.kind, "kind", "solid", "solid: squares burned all over; tints: even tints at one power; lines: single lines")
	flags.StringVar(&f.tints, "tints", "", "tints in percent of a chart of tints, as 5:95:10 or 5,25,50,75,95 (default: 5 to 95 in steps of 10)")
	flags.BoolVar(&f.oneBit, "one-bit", false, "a raster for each setting even where the machine takes a power for each dot")
	flags.BoolVar(&f.replace, "force", false, "replace files that are there")
	flags.BoolVar(&f.json, "json", false, "print the chart as JSON")
	return cmd
}

func (f *chartFlags) run(cmd *cobra.Command) error {
	request, err := f.request()
	if err != nil {
		return err
	}
	chart, err := swatch.New(request)
	if err != nil {
		return err
	}
	data, err := chart.JSON()
	if err != nil {
		return err
	}
	names, err := job.WriteChart(cmd.Context(), f.dir, chart, f.replace, nil)
	if err != nil {
		return err
	}
	if f.json {
		_, err := cmd.OutOrStdout().Write(data)
		return err
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%d swatches on %s, in %d rasters\n", len(chart.Swatches), layout.Millimetre.FormatSize(chart.Size), len(chart.Rasters))
	for _, name := range names {
		fmt.Fprintln(cmd.OutOrStdout(), f.dir+"/"+name)
	}
	for _, c := range chart.Cautions() {
		fmt.Fprintf(cmd.ErrOrStderr(), "caution: %s\n", c)
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "next: burn them, photograph the chart in even light, then undercoat-cli read PHOTO --chart %s -o readings.json\n", quoted(f.dir+"/"+job.ChartFile))
	return nil
}

func (f *chartFlags) request() (swatch.Request, error) {
	var r swatch.Request
	stack, err := job.FindStack(f.stack)
	if err != nil {
		return r, err
	}
	r.Stack = &stack
	if r.Machine, err = job.FindMachine(f.machine); err != nil {
		return r, err
	}
	switch f.kind {
	case "solid":
		r.Kind = swatch.Solid
	case "tints":
		r.Kind = swatch.Tints
	case "lines":
		r.Kind = swatch.Lines
	default:
		return r, fmt.Errorf("kind is %q: choose solid, tints or lines", f.kind)
	}
	if r.Powers, err = swatch.ParsePowers(f.powers); err != nil {
		return r, err
	}
	if r.Speeds, err = swatch.ParseSpeeds(f.speeds); err != nil {
		return r, err
	}
	if r.Pitches, err = swatch.ParsePitches(f.pitch); err != nil {
		return r, err
	}
	if r.Passes, err = swatch.ParsePasses(f.passes); err != nil {
		return r, err
	}
	if f.tints != "" {
		if r.Tints, err = swatch.ParseTints(f.tints); err != nil {
			return r, err
		}
	}
	if r.Scrap, err = layout.ParseSize(f.scrap, layout.Millimetre); err != nil {
		return r, fmt.Errorf("scrap: %w", err)
	}
	if r.Margin, err = layout.ParseLength(f.margin, layout.Millimetre); err != nil {
		return r, fmt.Errorf("margin: %w", err)
	}
	if f.side != "" {
		if r.Side, err = layout.ParseLength(f.side, layout.Millimetre); err != nil {
			return r, fmt.Errorf("side: %w", err)
		}
	}
	r.OneBit = f.oneBit
	return r, nil
}
