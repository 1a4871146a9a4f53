package main

import (
	"encoding/json"
	"fmt"
	"image"
	"io"

	"github.com/spf13/cobra"

	"undercoat/imaging/coat"
	"undercoat/imaging/compare"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch/fit"
)

type compareFlags struct {
	trial, corners, maps, update, record string
	replace, json                        bool
}

// comparison is what compare prints.
type comparison struct {
	Mean        float64            `json:"mean_de00"`
	Median      float64            `json:"median_de00"`
	P95         float64            `json:"p95_de00"`
	Largest     float64            `json:"largest_de00"`
	Dose        compare.DoseFactor `json:"dose"`
	Deeper      float64            `json:"share_too_deep"`
	Shallower   float64            `json:"share_too_shallow"`
	CloserPower float64            `json:"closer_power_percent"` // 0: none in range
	Words       []string           `json:"words"`
	Calibrated  bool               `json:"calibrated"`
}

func newCompare() *cobra.Command {
	f := &compareFlags{}
	cmd := &cobra.Command{
		Use:   "compare JOB.undercoat PHOTO | compare --trial DIR PHOTO",
		Short: "Compare a photograph of the finished panel, or of a trial, with its proof",
		Long: "Compare lays a photograph of the finished panel on its proof, evens out its light, and\n" +
			"says how far the two are apart, which dose would explain it, and which power would have\n" +
			"been closer. The photograph is cut to the panel's edges, or --corners names the panel's\n" +
			"corners in it. With --update the stack's curve takes what the panel has told.\n\n" +
			"With --trial it does so for a burned trial piece, from the folder that trial wrote: the\n" +
			"corner marks are found, every power's piece is compared with its own proof, and the\n" +
			"power is named that came closest to what is meant.",
		Example: "  undercoat-cli compare boat.undercoat finished.jpg --corners \"12,10 588,12 586,790 11,788\"\n" +
			"  undercoat-cli compare trial.jpg --trial trial --map difference.png",
		Args: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("trial") {
				return exactly(1, "one photograph and no job where --trial is given")(cmd, args)
			}
			return exactly(2, "a job and a photograph")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("trial") {
				return f.runTrial(cmd, args[0])
			}
			return f.run(cmd, args[0], args[1])
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.trial, "trial", "", "the folder that trial wrote, where the photograph is one of the burned scrap")
	flags.StringVar(&f.corners, "corners", "", `the panel's corners, or the outer ones of a trial's marks, in the photograph, in pixels, from the picture's upper left and clockwise: "x,y x,y x,y x,y"`)
	flags.StringVar(&f.maps, "map", "", "write a picture of where they differ, ending in .png: photograph, proof, difference")
	flags.StringVar(&f.update, "update", "", "write the stack with its curve updated by this panel or trial, ending in .json")
	flags.StringVar(&f.record, "record", "", "keep the comparison in the job, with this remark (may be empty)")
	flags.BoolVar(&f.replace, "force", false, "replace files that are there")
	flags.BoolVar(&f.json, "json", false, "print one JSON object")
	return cmd
}

func (f *compareFlags) run(cmd *cobra.Command, jobPath, photoPath string) error {
	j, err := job.Read(jobPath)
	if err != nil {
		return err
	}
	data, err := job.ReadBytes(photoPath)
	if err != nil {
		return err
	}
	o, err := f.options()
	if err != nil {
		return err
	}
	r, err := compare.Job(cmd.Context(), j, photoPath, data, o)
	if err != nil {
		return err
	}
	if err := f.write(cmd, j, r, jobPath, photoPath, data); err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	if f.json {
		return json.NewEncoder(out).Encode(comparison{
			r.Mean, r.Median, r.P95, r.Largest, r.Dose, r.Deeper, r.Shallower, r.CloserPower, r.Words, j.Document.Stack.Curve.Calibrated,
		})
	}
	for _, w := range r.Words {
		fmt.Fprintln(out, w)
	}
	return nil
}

func (f *compareFlags) options() (compare.Options, error) {
	if f.corners == "" {
		return compare.Options{}, nil
	}
	corners, err := parseCorners(f.corners)
	return compare.Options{Corners: &corners}, err
}

// write writes what was asked for beside the words.
func (f *compareFlags) write(cmd *cobra.Command, j *job.Job, r *compare.Result, jobPath, photoPath string, photo []byte) error {
	if err := f.writeMap(r.Sheet()); err != nil {
		return err
	}
	if err := f.writeUpdate(j.Document.Stack, r.Dose); err != nil {
		return err
	}
	if cmd.Flags().Changed("record") {
		kept, err := compare.Record(j, r, photoPath, photo, f.record)
		if err != nil {
			return err
		}
		return kept.Save(jobPath, true)
	}
	return nil
}

// writeMap writes the picture of where photograph and proof differ, if it is asked for.
func (f *compareFlags) writeMap(sheet *image.RGBA) error {
	if f.maps == "" {
		return nil
	}
	if err := pngName(f.maps); err != nil {
		return err
	}
	return export.WriteFile(f.maps, f.replace, func(w io.Writer) error { return export.WriteProof(w, sheet, 0) })
}

// writeUpdate writes the stack with its curve updated, if it is asked for.
func (f *compareFlags) writeUpdate(stack coat.Stack, dose compare.DoseFactor) error {
	if f.update == "" {
		return nil
	}
	stack, err := fit.Update(stack, 1/dose.Factor, dose.LnSD)
	if err != nil {
		return err
	}
	data, err := stack.JSON()
	if err != nil {
		return err
	}
	return export.WriteFile(f.update, f.replace, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
