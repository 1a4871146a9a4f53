package main

import (
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/fit"
)

type fitFlags struct {
	output, stack, machine, name, save string
	replace, json                      bool
}

func newFit() *cobra.Command {
	f := &fitFlags{}
	cmd := &cobra.Command{
		Use:   "fit READINGS... --stack STACK -o CALIBRATED.json",
		Short: "Find a stack's curve from the readings of its charts",
		Long: "Fit finds the dose at which each coat gives way, how widely, and the paints' colours,\n" +
			"with their uncertainty, from the readings of one or more charts burned into one stack.\n" +
			"It says what it had to assume, and which swatches to burn next where more would tell most.\n" +
			"Readings are files, or entries of your library; --save keeps them there beside the stack.\n" +
			"From the readings of a chart of lines it finds the beam's width across the lines and the\n" +
			"power at which a line begins to show; -o then writes the machine with that beam.\n" +
			"\n" +
			"A colour is measured where two swatches or more show it nearly alone; else it leans on the\n" +
			"stack you gave, the paint's label. --json says so, one entry a coat from the top down:\n" +
			"colour_measured, colour_sd_de00 (how far the colour may be off, in CIEDE2000) and told_apart\n" +
			"(whether the chart shows the coat and what lies beneath it as two); of the ground,\n" +
			"ground_colour_measured and ground_colour_sd_de00.",
		Example: "  undercoat-cli fit readings.json --stack graphite-teal-sunflower -o calibrated.json\n" +
			"  undercoat-cli fit readings.json --stack graphite-teal-sunflower --save my-graphite\n" +
			"  undercoat-cli fit lines.json -o my-machine.json",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return exactly(1, "the readings of one chart or more, a file or an entry's name each")(cmd, args)
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			all, err := readingsNamed(cmd, args)
			if f.save == "" && (err != nil || !onlyLines(all)) {
				if err := needed(cmd, "output"); err != nil {
					return err
				}
			}
			if err != nil {
				return err
			}
			return f.run(cmd, all)
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.output, "output", "o", "", "the calibrated stack's file, or of lines alone the machine's, ending in .json")
	flags.StringVar(&f.stack, "stack", "", "the stack as painted: an entry's name or a JSON file (default: the first starter entry)")
	flags.StringVar(&f.machine, "machine", "", "machine that burned the charts, for readings that do not say")
	flags.StringVar(&f.name, "name", "", "the calibrated stack's name (default: the stack's, with \"calibrated\")")
	flags.StringVar(&f.save, "save", "", "keep the calibrated stack in your library under this name, with or without -o")
	flags.BoolVar(&f.replace, "force", false, "replace the file, or the entry, if it is there")
	flags.BoolVar(&f.json, "json", false, "print the result as JSON")
	return cmd
}

func (f *fitFlags) run(cmd *cobra.Command, all []swatch.Readings) error {
	var o fit.Options
	if f.machine != "" {
		m, err := job.FindMachine(f.machine)
		if err != nil {
			return err
		}
		o.Machine = &m
	}
	if onlyLines(all) {
		return f.beamAlone(cmd, all, o.Machine)
	}
	stack, err := job.FindStack(f.stack)
	if err != nil {
		return err
	}
	lines, all := linesApart(all)
	if err := f.beams(cmd, lines, o.Machine); err != nil {
		return err
	}
	progress := newProgress(cmd.ErrOrStderr())
	o.Progress = progress.show
	r, err := fit.Fit(cmd.Context(), all, stack, o)
	progress.clear()
	if err != nil {
		return err
	}
	if f.name != "" {
		r.Stack.Name = f.name
	}
	r.Stack.Curve.Origin.Date = time.Now().Format(time.DateOnly)
	if err := f.keep(r.Stack, all); err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	if f.json {
		data, err := r.MarshalJSON()
		if err != nil {
			return err
		}
		_, err = out.Write(append(data, '\n'))
		return err
	}
	for _, c := range r.Coats {
		if !c.Reached {
			fmt.Fprintf(out, "%-16s not reached\n", c.Name)
			continue
		}
		fmt.Fprintf(out, "%-16s gives way at %.1f J/cm2 (%.1f to %.1f with 95 %%), spread %.2f, %s %s\n",
			c.Name, c.BreakThroughJCM2, c.Low, c.High, c.Spread, c.Colour, measuredText(c.Paint))
	}
	fmt.Fprintf(out, "%-16s %s %s\n", "ground", r.Stack.Ground.Colour, measuredText(r.Ground))
	fmt.Fprintf(out, "%s\n", r.Status())
	for _, s := range r.Next {
		fmt.Fprintf(out, "burn next: %s\n", job.SettingText(s))
	}
	name := f.output
	if f.save != "" {
		name = f.save
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "wrote %s: name it as --stack from now on\n", name)
	return nil
}

func readingsNamed(cmd *cobra.Command, names []string) ([]swatch.Readings, error) {
	var all []swatch.Readings
	for _, name := range names {
		r, err := findReadings(cmd, name)
		if err != nil {
			return nil, err
		}
		all = append(all, r)
	}
	return all, nil
}

// findReadings are the readings that a person named: an entry of the library, or else a
// JSON file.
func findReadings(cmd *cobra.Command, name string) (swatch.Readings, error) {
	data, err := library.Open().Bytes(library.Readings, name)
	if errors.As(err, new(*library.NoEntryError)) {
		data, err = readFile(cmd, name)
	}
	if err != nil {
		return swatch.Readings{}, err
	}
	r, err := swatch.ReadReadings(data)
	if err != nil {
		return r, fmt.Errorf("%s: %w", name, err)
	}
	return r, nil
}

// measuredText tells how well a colour is known.
func measuredText(p fit.Paint) string {
	how := "not measured"
	if p.Measured {
		how = "measured"
	}
	return fmt.Sprintf("(%s, to CIEDE2000 %.1f)", how, p.SDDE00)
}

// keep writes the calibrated stack to its file, into the library with its readings, or
// to both.
func (f *fitFlags) keep(stack coat.Stack, charts []swatch.Readings) error {
	if f.save != "" {
		kept, err := library.Open().SaveCalibrated(f.save, stack, charts, f.replace)
		if err != nil {
			return err
		}
		stack = kept
	}
	if f.output == "" {
		return nil
	}
	data, err := stack.JSON()
	if err != nil {
		return err
	}
	return export.WriteFile(f.output, f.replace, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
