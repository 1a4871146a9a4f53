package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/layout"
)

type prepareFlags struct {
	dir           string
	only          []string
	replace, json bool
	keepJob       bool
	sections      string
	workshop      workshopFlags
}

func newPrepare() *cobra.Command {
	f := &prepareFlags{}
	cmd := &cobra.Command{
		Use:   "prepare JOB.undercoat -o DIR",
		Short: "Prepare a job for the machine: raster, placement note, proof, sheets",
		Long: "Prepare runs a job from its picture to the hand-off: raster.png, which the machine\n" +
			"can be sent unchanged (step-1.png and so on where colours are matched by steps,\n" +
			"section-1.png and so on where the panel is longer than the bed),\n" +
			"placement.txt and placement.json, which say where it goes,\n" +
			"proof.png, the predicted look of the finished panel,\n" +
			"and sheet.pdf, which lies beside the machine.\n" +
			"With a start it also makes timetable.ics, and with rates client.pdf, which the\nclient signs.",
		Example: "  undercoat-cli prepare boat.undercoat -o boat --force\n" +
			"  undercoat-cli prepare boat.undercoat -o friday --start \"2026-05-01 09:00\" --rights \"own photograph\"\n" +
			"  undercoat-cli prepare boat.undercoat -o parts --sections 50mm --only raster,placement\n" +
			"  undercoat-cli prepare boat.undercoat -o client --only client",
		Args: exactly(1, "one job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			j, err := readJob(cmd, args[0])
			if err != nil {
				return err
			}
			return f.run(cmd, j, nil)
		},
	}
	f.add(cmd)
	cmd.Flags().StringSliceVar(&f.only, "only", nil, "prepare only these parts: "+job.OutputNames())
	cmd.Flags().StringVar(&f.sections, "sections", "", "burn in sections no longer than this, as 300mm (default: only where the bed asks for it)")
	f.workshop.add(cmd)
	return cmd
}

func newDemo() *cobra.Command {
	f := &prepareFlags{keepJob: true}
	cmd := &cobra.Command{
		Use:     "demo -o DIR",
		Short:   "Run the built-in job from picture to hand-off",
		Long:    "Demo prepares the built-in job, a lighthouse at dusk on a birch board, and keeps\nits job file beside the hand-off, so that it can be opened and changed.",
		Example: "  undercoat-cli demo -o demo",
		Args:    exactly(0, "no arguments besides its flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			j, pic, err := job.Demo(cmd.Context())
			if err != nil {
				return err
			}
			return f.run(cmd, j, pic)
		},
	}
	f.add(cmd)
	return cmd
}

func (f *prepareFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVarP(&f.dir, "output", "o", "", "the folder to write to; made if missing")
	cmd.Flags().BoolVar(&f.replace, "force", false, "replace files that are there")
	cmd.Flags().BoolVar(&f.json, "json", false, "print the placement as JSON")
}

func (f *prepareFlags) run(cmd *cobra.Command, j *job.Job, pic *picture.Picture) error {
	if cmd.Flags().Changed("only") && len(f.only) == 0 {
		return usageError{errors.New("--only is empty: choose from " + job.OutputNames() + ", or leave it out for the usual ones")}
	}
	only, err := job.ParseOutputs(f.only)
	if err != nil {
		return usageError{err}
	}
	request := job.Request{Dir: f.dir, Only: only, KeepJob: f.keepJob, Force: f.replace, Picture: pic}
	if request.Workshop, err = f.workshop.read(); err != nil {
		return err
	}
	if f.sections != "" {
		if request.Sections, err = layout.ParseLength(f.sections, j.Document.UnitOf()); err != nil {
			return fmt.Errorf("sections: %w", err)
		}
		if request.Sections == 0 {
			return errors.New("sections of no length are not possible: write, for instance, --sections 300mm")
		}
	}
	progress := newProgress(cmd.ErrOrStderr())
	request.Progress = progress.show
	h, err := job.Prepare(cmd.Context(), j, request)
	progress.clear()
	if err != nil {
		return err
	}
	n := h.Note
	lines := []string{fmt.Sprintf("%d x %d dots at %.4f mm, about %s of burning",
		n.RasterDots[0], n.RasterDots[1], float64(n.Pitch), layout.FormatDuration(n.BurnTime()))}
	if n.Fit.How != layout.Upright {
		lines = append(lines, n.Fit.Words)
	}
	return tellHandoff(cmd, h, f.json, lines...)
}

// tellHandoff prints what was handed off: the placement as JSON, or some lines about
// it, its files and its cautions.
func tellHandoff(cmd *cobra.Command, h *job.Handoff, asJSON bool, lines ...string) error {
	out := cmd.OutOrStdout()
	if asJSON {
		data, err := h.Note.JSON()
		if err != nil {
			return err
		}
		_, err = out.Write(data)
		return err
	}
	for _, line := range lines {
		fmt.Fprintln(out, line)
	}
	for _, name := range h.Files {
		fmt.Fprintln(out, name)
	}
	for _, caution := range h.Cautions {
		fmt.Fprintf(cmd.ErrOrStderr(), "caution: %s\n", caution)
	}
	return nil
}
