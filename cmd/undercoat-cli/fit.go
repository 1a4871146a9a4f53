package main

import (
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

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
		Use:   "fit READINGS.json... --stack STACK -o CALIBRATED.json",
		Short: "Find a stack's curve from the readings of its charts",
		Long: "Fit finds the dose at which each coat gives way, how widely, and the paints' colours,\n" +
			"with their uncertainty, from the readings of one or more charts burned into one stack.\n" +
			"It says what it had to assume, and which swatches to burn next where more would tell most.",
		Example: "  undercoat-cli fit readings.json --stack graphite-teal-sunflower -o calibrated.json\n" +
			"  undercoat-cli fit readings.json --stack graphite-teal-sunflower --save my-graphite",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return exactly(1, "one file of readings or more")(cmd, args)
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.save == "" {
				if err := needed(cmd, "output"); err != nil {
					return err
				}
			}
			return f.run(cmd, args)
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.output, "output", "o", "", "the calibrated stack's file, ending in .json")
	flags.StringVar(&f.stack, "stack", "", "the stack as painted: an entry's name or a JSON file (default: the first starter entry)")
	flags.StringVar(&f.machine, "machine", "", "machine that burned the charts, for readings that do not say")
	flags.StringVar(&f.name, "name", "", "the calibrated stack's name (default: the stack's, with \"calibrated\")")
	flags.StringVar(&f.save, "save", "", "keep the calibrated stack in your library under this name, with or without -o")
	flags.BoolVar(&f.replace, "force", false, "replace the file, or the entry, if it is there")
	flags.BoolVar(&f.json, "json", false, "print the result as JSON")
	return cmd
}

func (f *fitFlags) run(cmd *cobra.Command, paths []string) error {
	stack, err := job.FindStack(f.stack)
	if err != nil {
		return err
	}
	var o fit.Options
	if f.machine != "" {
		m, err := job.FindMachine(f.machine)
		if err != nil {
			return err
		}
		o.Machine = &m
	}
	var all []swatch.Readings
	for _, path := range paths {
		data, err := readFile(cmd, path)
		if err != nil {
			return err
		}
		r, err := swatch.ReadReadings(data)
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		all = append(all, r)
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
	data, err := r.Stack.JSON()
	if err != nil {
		return err
	}
	if err := f.keep(data); err != nil {
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
		fmt.Fprintf(out, "%-16s gives way at %.1f J/cm2 (%.1f to %.1f with 95 %%), spread %.2f, %s\n", c.Name, c.BreakThroughJCM2, c.Low, c.High, c.Spread, c.Colour)
	}
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

// keep writes the calibrated stack to its file, into the library, or to both.
func (f *fitFlags) keep(data []byte) error {
	if f.save != "" {
		if _, err := library.Open().Save(f.save, data, f.replace); err != nil {
			return err
		}
	}
	if f.output == "" {
		return nil
	}
	return export.WriteFile(f.output, f.replace, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
