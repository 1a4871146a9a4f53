package main

import (
	"fmt"
	"image"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/photo"
	"undercoat/layout"
)

type readFlags struct {
	output, chart, corners, white, topCoat, machine, seen, date string
	replace, json                                               bool
}

func newRead() *cobra.Command {
	f := &readFlags{}
	cmd := &cobra.Command{
		Use:   "read PHOTO --chart chart.json -o readings.json",
		Short: "Read a photograph of a burned chart",
		Long: "Read finds the chart's corner marks in a photograph, or takes the four corners given,\n" +
			"evens out the light by the unburned fields between the swatches, and measures each\n" +
			"swatch in linear light. Swatches it cannot trust are left out, with the reason.\n" +
			"Without a photograph, --seen takes what your eye saw: \"A1=top coat, A2=mostly teal, A3=#2b7a78\".\n" +
			"Of a chart of lines it measures how wide each line is; a caution says when the photograph\n" +
			"is too coarse for that. Under a loupe, --seen takes the widths: \"A1=0.12mm, A2=0.09mm\".",
		Example: "  undercoat-cli read chart.jpg --chart chart/chart.json -o readings.json",
		Args: func(cmd *cobra.Command, args []string) error {
			if f.seen != "" {
				return exactly(0, "no photograph where --seen is given")(cmd, args)
			}
			return exactly(1, "one photograph")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := needed(cmd, "output", "chart"); err != nil {
				return err
			}
			return f.run(cmd, args)
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.output, "output", "o", "", "the readings' file, ending in .json")
	flags.StringVar(&f.chart, "chart", "", "the chart's file, chart.json")
	flags.StringVar(&f.corners, "corners", "", `the chart's corner marks in pixels: upper left, upper right, lower right, lower left: "x,y x,y x,y x,y"`)
	flags.StringVar(&f.white, "white", "", "a part of a white paper beside the chart, in pixels: x,y,w,h")
	flags.StringVar(&f.topCoat, "top-coat", "", "colour of the top coat, as #2b2d30, for a chart that does not say")
	flags.StringVar(&f.machine, "machine", "", "machine that burned it, for a chart that does not say")
	flags.StringVar(&f.seen, "seen", "", `readings by eye, as "A1=top coat, A2=teal and ground", or colours, as "A3=#2b7a78"; of lines their widths, as "A1=0.12mm"`)
	flags.StringVar(&f.date, "date", "", "day of the photograph, as 2025-11-30, to keep with the readings")
	flags.BoolVar(&f.replace, "force", false, "replace the file if it is there")
	flags.BoolVar(&f.json, "json", false, "print the readings as JSON")
	return cmd
}

func (f *readFlags) run(cmd *cobra.Command, args []string) error {
	data, err := job.ReadBytes(f.chart)
	if err != nil {
		return err
	}
	chart, err := swatch.ReadChart(data)
	if err != nil {
		return fmt.Errorf("%s: %w", f.chart, err)
	}
	var readings swatch.Readings
	var cautions []string
	if f.seen != "" {
		readings, err = f.byEye(chart)
	} else {
		readings, cautions, err = f.byPhoto(cmd, chart, args[0])
	}
	if err != nil {
		return err
	}
	out, err := readings.JSON()
	if err != nil {
		return err
	}
	err = export.WriteFile(f.output, f.replace, func(w io.Writer) error {
		_, err := w.Write(out)
		return err
	})
	if err != nil {
		return err
	}
	if f.json {
		if _, err := cmd.OutOrStdout().Write(out); err != nil {
			return err
		}
	}
	f.tell(cmd.ErrOrStderr(), chart, readings, cautions)
	return nil
}

// tell says what was read and what to do next.
func (f *readFlags) tell(out io.Writer, chart swatch.Chart, readings swatch.Readings, cautions []string) {
	used := 0
	for _, s := range readings.Swatches {
		if s.LeftOut == "" {
			used++
			continue
		}
		fmt.Fprintf(out, "left out: %s: %s\n", s.ID, s.LeftOut)
	}
	for _, c := range cautions {
		fmt.Fprintf(out, "caution: %s\n", c)
	}
	if chart.Kind == swatch.Lines {
		fmt.Fprintf(out, "measured %d of %d lines into %s: next, undercoat-cli fit %s\n", used, len(readings.Swatches), f.output, quoted(f.output))
		return
	}
	fmt.Fprintf(out, "read %d of %d swatches into %s: next, undercoat-cli fit %s --stack STACK -o calibrated.json\n", used, len(readings.Swatches), f.output, quoted(f.output))
}

func (f *readFlags) byPhoto(cmd *cobra.Command, chart swatch.Chart, path string) (swatch.Readings, []string, error) {
	var none swatch.Readings
	data, err := readFile(cmd, path)
	if err != nil {
		return none, nil, err
	}
	pic, err := job.OpenPicture(cmd.Context(), path, data)
	if err != nil {
		return none, nil, err
	}
	o := photo.Options{Facts: &swatch.PhotoFacts{Name: filepath.Base(path), SHA256: job.Checksum(data), Date: f.date}}
	if f.corners != "" {
		corners, err := parseCorners(f.corners)
		if err != nil {
			return none, nil, err
		}
		o.Corners = &corners
	}
	if f.white != "" {
		v, err := numberList("white", f.white, 4, "40,60,200,150")
		if err != nil {
			return none, nil, err
		}
		r := image.Rect(int(v[0]), int(v[1]), int(v[0]+v[2]), int(v[1]+v[3]))
		o.White = &r
	}
	if f.topCoat != "" {
		c, err := colour.ParseHex(f.topCoat)
		if err != nil {
			return none, nil, fmt.Errorf("top-coat: %w", err)
		}
		o.TopCoat = &c
	}
	if f.machine != "" {
		m, err := job.FindMachine(f.machine)
		if err != nil {
			return none, nil, err
		}
		o.Machine = &m
	}
	if chart.Kind == swatch.Lines {
		r, err := photo.ReadLines(cmd.Context(), pic, chart, o)
		return r.Readings, r.Cautions, err
	}
	r, err := photo.Read(cmd.Context(), pic, chart, o)
	return r.Readings, r.Cautions, err
}

// byEye reads "A1=top coat, A2=mostly teal".
func (f *readFlags) byEye(chart swatch.Chart) (swatch.Readings, error) {
	r := swatch.Readings{Machine: chart.Machine}
	if f.machine != "" {
		m, err := job.FindMachine(f.machine)
		if err != nil {
			return r, err
		}
		r.Machine = &m
	}
	if r.Machine == nil {
		return r, fmt.Errorf("the chart does not say which machine burned it: add --machine")
	}
	for _, part := range strings.Split(f.seen, ",") {
		id, seen, ok := strings.Cut(part, "=")
		id, seen = strings.TrimSpace(id), strings.TrimSpace(seen)
		s, known := chart.Swatch(id)
		switch {
		case !ok:
			return r, fmt.Errorf("seen: %q is not of the form SWATCH=WHAT: write, for instance, A1=top coat", part)
		case !known:
			return r, fmt.Errorf("seen: the chart has no swatch %q: the ids are burned beside the swatches", id)
		}
		reading := swatch.Reading{ID: id, Setting: s.Setting, OpticalPowerW: r.Machine.OpticalPowerW, Tint: s.Tint, Seen: seen}
		var err error
		if chart.Kind == swatch.Lines {
			reading, err = measuredIt(reading)
		} else {
			reading, err = sawIt(reading, chart.Stack)
		}
		if err != nil {
			return r, fmt.Errorf("seen, %s: %w", id, err)
		}
		r.Swatches = append(r.Swatches, reading)
	}
	return r, r.Validate()
}

// sawIt checks what an eye saw on a swatch: words, or a colour. A chart may not say which
// stack it was burned into.
func sawIt(r swatch.Reading, stack *coat.Stack) (swatch.Reading, error) {
	if strings.HasPrefix(r.Seen, "#") {
		c, err := colour.ParseHex(r.Seen)
		return r.Coloured(c), err
	}
	if stack == nil {
		return r, nil
	}
	_, err := swatch.ParseSeen(r.Seen, *stack)
	return r, err
}

// measuredIt takes the width of a line that somebody measured; 0 is a line that does not
// show.
func measuredIt(r swatch.Reading) (swatch.Reading, error) {
	width, err := layout.ParseLength(r.Seen, layout.Millimetre)
	if err != nil {
		return r, err
	}
	if r.Width, r.Seen = width, ""; width == 0 {
		r.LeftOut = "does not show"
	}
	return r, nil
}
