package main

import (
	"bufio"
	"fmt"
	"image"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"undercoat/imaging/burn"
	"undercoat/imaging/export"
)

type exposeFlags struct {
	settingFlags
	output  string
	grid    int
	replace bool
}

func newExpose() *cobra.Command {
	f := &exposeFlags{}
	cmd := &cobra.Command{
		Use:   "expose RASTER.png -o DOSE.csv",
		Short: "Work out the dose map of a raster",
		Long: "Expose gives the dose, in J/cm2, at the centres of grid x grid cells in every dot of a\n" +
			"raster, top row first, one row of cells a line. Black burns; greys are shares of the\n" +
			"power. Passes count as the stack says. With -o - the map goes to standard output.",
		Example: "  undercoat-cli expose boat/raster.png --power 30 --speed 1500mm/min --pitch 0.08mm --grid 2 -o dose.csv",
		Args:    exactly(1, "one raster"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			return f.run(cmd, args[0])
		},
	}
	f.add(cmd)
	cmd.Flags().StringVarP(&f.output, "output", "o", "", "the CSV file to write, or - for standard output")
	cmd.Flags().IntVar(&f.grid, "grid", 1, "cells across a dot, 1 to 8")
	cmd.Flags().BoolVar(&f.replace, "force", false, "replace the file if it is there")
	return cmd
}

func (f *exposeFlags) run(cmd *cobra.Command, raster string) error {
	stack, machine, setting, err := f.resolve()
	if err != nil {
		return err
	}
	data, err := readFile(cmd, raster)
	if err != nil {
		return err
	}
	src, err := export.ReadRaster(data)
	if err != nil {
		return fmt.Errorf("%s: %w", raster, err)
	}
	w, h := src.Size()
	write := func(to io.Writer) error {
		line := newDoseWriter(to)
		err := burn.Expose(cmd.Context(), machine, setting, stack.Curve.Passes(), src, image.Rect(0, 0, w, h), f.grid, line.row)
		if err != nil {
			return err
		}
		return line.Flush()
	}
	if f.output == "-" {
		return write(cmd.OutOrStdout())
	}
	return export.WriteFile(f.output, f.replace, write)
}

// doseWriter writes rows of doses as lines of CSV.
type doseWriter struct {
	*bufio.Writer
	text []byte
}

func newDoseWriter(to io.Writer) *doseWriter {
	return &doseWriter{Writer: bufio.NewWriterSize(to, 1<<16)}
}

func (d *doseWriter) row(_ int, dosesJCM2 []float32) error {
	d.text = d.text[:0]
	for i, dose := range dosesJCM2 {
		if i > 0 {
			d.text = append(d.text, ',')
		}
		d.text = strconv.AppendFloat(d.text, float64(dose), 'g', 7, 32)
	}
	_, err := d.Write(append(d.text, '\n'))
	return err
}
