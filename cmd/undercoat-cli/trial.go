package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/layout"
)

type trialFlags struct {
	dir, size, powers, at string
	replace, json         bool
}

func newTrial() *cobra.Command {
	f := &trialFlags{}
	cmd := &cobra.Command{
		Use:   "trial JOB.undercoat -o DIR",
		Short: "Prepare a small piece of a job for a scrap, at one power or at several",
		Long: "Trial takes the part of the picture that shows most, by its detail and by how many\n" +
			"coats it goes through, or the part you name. Its dots are those that the panel would\n" +
			"get. Several powers lie side by side: one raster each, all of one size and burned in\n" +
			"the same place. The placement note is for a scrap painted like the panel; burn it,\n" +
			"and hold it beside its proof, or photograph it for compare --trial.",
		Example: "  undercoat-cli trial boat.undercoat -o trial --size 20x15mm --powers 20,30,40\n" +
			"  undercoat-cli trial boat.undercoat -o corner --size 20x15mm --at 10,-20",
		Args: exactly(1, "one job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			return f.run(cmd, args[0])
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.dir, "output", "o", "", "the folder to write to; made if missing")
	flags.StringVar(&f.size, "size", "60x40mm", "size of the piece, as 60x40mm")
	flags.StringVar(&f.powers, "powers", "", "powers in percent: from:to:step, or a list with commas (default: the job's own)")
	flags.StringVar(&f.at, "at", "", "middle of the piece on the panel: x,y in mm from the panel's centre (default: the most telling part)")
	flags.BoolVar(&f.replace, "force", false, "replace files that are there")
	flags.BoolVar(&f.json, "json", false, "print the placement on the scrap as JSON")
	return cmd
}

func (f *trialFlags) request(d job.Document) (job.TrialRequest, error) {
	r := job.TrialRequest{Dir: f.dir, Force: f.replace}
	var err error
	if r.Size, err = layout.ParseSize(f.size, d.UnitOf()); err != nil {
		return r, err
	}
	if f.powers != "" {
		if r.Powers, err = parsePowers(f.powers); err != nil {
			return r, err
		}
	}
	if f.at != "" {
		v, err := numberList("at", f.at, 2, "10,-20")
		if err != nil {
			return r, err
		}
		r.At = &layout.Point{X: layout.MM(v[0]), Y: layout.MM(v[1])}
	}
	return r, nil
}

func (f *trialFlags) run(cmd *cobra.Command, path string) error {
	j, err := readJob(cmd, path)
	if err != nil {
		return err
	}
	r, err := f.request(j.Document)
	if err != nil {
		return err
	}
	bar := newProgress(cmd.ErrOrStderr())
	r.Progress = bar.show
	h, err := job.Trial(cmd.Context(), j, r)
	bar.clear()
	if err != nil {
		return err
	}
	n, u := h.Note, j.Document.UnitOf()
	return tellHandoff(cmd, h, f.json,
		fmt.Sprintf("%s about %s, %s of the panel: %s", u.FormatSize(n.Trial.Size), u.Format(n.Trial.Centre.X), u.Format(n.Trial.Centre.Y), n.Trial.Why),
		fmt.Sprintf("on a scrap of %s or more, about %s of burning", u.FormatSize(n.Panel), layout.FormatDuration(n.BurnTime())))
}
