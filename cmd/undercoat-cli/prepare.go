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
}

func newPrepare() *cobra.Command {
	f := &prepareFlags{}
	cmd := &cobra.Command{
		Use:     "prepare JOB.undercoat -o DIR",
		Short:   "Prepare a job for the machine: raster, placement note, proof",
		Long:    "Prepare runs a job from its picture to the hand-off: raster.png, which the machine\ncan be sent unchanged (step-1.png and so on where colours are matched by steps),\nplacement.txt and placement.json, which say where it goes,\nand proof.png, the predicted look of the finished panel.",
		Example: "  undercoat-cli prepare boat.undercoat -o boat",
		Args:    exactly(1, "one job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			j, err := job.Read(args[0])
			if err != nil {
				return err
			}
			return f.run(cmd, j, nil)
		},
	}
	f.add(cmd)
	cmd.Flags().StringSliceVar(&f.only, "only", nil, "prepare only these parts: raster, placement, proof")
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
		return usageError{errors.New("--only is empty: choose from raster, placement, proof, or leave it out for all")}
	}
	only, err := job.ParseOutputs(f.only)
	if err != nil {
		return usageError{err}
	}
	progress := newProgress(cmd.ErrOrStderr())
	h, err := job.Prepare(cmd.Context(), j, job.Request{
		Dir: f.dir, Only: only, KeepJob: f.keepJob, Force: f.replace, Picture: pic, Progress: progress.show,
	})
	progress.clear()
	if err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	if f.json {
		data, err := h.Note.JSON()
		if err != nil {
			return err
		}
		_, err = out.Write(data)
		return err
	}
	n := h.Note
	fmt.Fprintf(out, "%d x %d dots at %.4f mm, about %s of burning\n",
		n.RasterDots[0], n.RasterDots[1], float64(n.Pitch), layout.FormatDuration(n.BurnTime()))
	for _, name := range h.Files {
		fmt.Fprintln(out, name)
	}
	for _, caution := range h.Cautions {
		fmt.Fprintf(cmd.ErrOrStderr(), "caution: %s\n", caution)
	}
	return nil
}
