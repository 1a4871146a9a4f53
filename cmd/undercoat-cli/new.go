package main

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

type newFlags struct {
	settingFlags
	output, picture, name   string
	panel, kind, edge       string
	border, crop, unit      string
	screen, tones, burns    string
	quarters                int
	mirror, oneWay, replace bool
}

func newNew() *cobra.Command {
	f := &newFlags{}
	cmd := &cobra.Command{
		Use:   "new -o JOB.undercoat --picture PICTURE",
		Short: "Make a job from a picture",
		Long:  "New puts a picture, a panel, a stack, a machine and a setting into one job file.\nThe picture is cropped to the shape of the picture area, about its centre, unless --crop says otherwise.",
		Example: "  undercoat-cli new -o boat.undercoat --picture boat.jpg --panel 12x16in --border 3mm \\\n" +
			"      --power 30 --speed 1500mm/min --pitch 0.08mm",
		Args: exactly(0, "no arguments besides its flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := needed(cmd, "output", "picture"); err != nil {
				return err
			}
			if !strings.EqualFold(filepath.Ext(f.output), job.Extension) {
				return usageError{fmt.Errorf("the job's file %q does not end in %s: write -o %s", f.output, job.Extension, quoted(f.output+job.Extension))}
			}
			return f.run(cmd)
		},
	}
	f.add(cmd)
	flags := cmd.Flags()
	flags.StringVarP(&f.output, "output", "o", "", "the job's file, ending in "+job.Extension)
	flags.StringVar(&f.picture, "picture", "", "the picture: a JPEG, PNG, GIF, WebP, TIFF or BMP file")
	flags.StringVar(&f.name, "name", "", "the job's name (default: that of the file)")
	flags.StringVar(&f.panel, "panel", "300x400mm", "width x height of the panel, as 12x16in or 300x400mm")
	flags.StringVar(&f.kind, "kind", string(layout.Board), "kind of panel: canvas, tile or board")
	flags.StringVar(&f.edge, "edge", "0mm", "depth of the panel's edge")
	flags.StringVar(&f.border, "border", "6mm", "untouched border, one width or four: left,right,top,bottom")
	flags.StringVar(&f.crop, "crop", "", "part of the picture as x,y,w,h in pixels; it is brought to the picture area's shape")
	flags.StringVar(&f.unit, "unit", "mm", "unit that lengths are shown in, and read in where none is given: mm, cm or in")
	flags.StringVar(&f.screen, "screen", string(screen.FloydSteinberg), "how tints become dots: "+kinds())
	flags.BoolVar(&f.oneWay, "one-way", false, "screen every row from left to right, not to and fro")
	flags.StringVar(&f.tones, "tones", string(job.TonesEven), "even: equal steps of lightness; light: the share of dots is the share of light")
	flags.StringVar(&f.burns, "burns", string(job.BurnsByStack), "which parts burn: by-stack, bright or dark")
	flags.IntVar(&f.quarters, "quarter-turns", 0, "turn the picture clockwise by so many quarters, 0 to 3")
	flags.BoolVar(&f.mirror, "mirror", false, "mirror the picture left to right")
	flags.BoolVar(&f.replace, "force", false, "replace the job's file if it is there")
	return cmd
}

func kinds() string {
	var names []string
	for _, k := range job.ScreenKinds() {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}

func (f *newFlags) run(cmd *cobra.Command) error {
	d, err := f.document()
	if err != nil {
		return err
	}
	data, err := job.ReadBytes(f.picture)
	if err != nil {
		return err
	}
	j, pic, err := job.New(cmd.Context(), d, filepath.Base(f.picture), data)
	if err != nil {
		return err
	}
	if f.quarters != 0 || f.mirror || f.crop != "" {
		j.Document.Picture.QuarterTurns, j.Document.Picture.Mirror = f.quarters, f.mirror
		w, h := pic.Size(j.Document.Picture.Turn())
		j.Document.Picture.Crop = layout.Crop{W: float64(w), H: float64(h)}
		if f.crop != "" {
			if j.Document.Picture.Crop, err = parseCrop(f.crop, w, h); err != nil {
				return err
			}
		}
		if j.Document, err = j.Document.Refit(pic); err != nil {
			return err
		}
	}
	if err := j.Save(f.output, f.replace); err != nil {
		return err
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "wrote %s: next, undercoat-cli prepare %s -o DIR\n", f.output, quoted(f.output))
	return nil
}

// quoted is a path as it can be typed again.
func quoted(path string) string {
	if strings.ContainsFunc(path, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("'\"()&;$`*?<>|", r) }) {
		return strconv.Quote(path)
	}
	return path
}

func (f *newFlags) document() (job.Document, error) {
	unit, err := layout.ParseUnit(f.unit)
	if err != nil {
		return job.Document{}, err
	}
	stack, machine, setting, err := f.resolve()
	if err != nil {
		return job.Document{}, err
	}
	d := job.Blank(stack, machine)
	d.Name, d.Unit, d.Setting = f.name, unit.String(), setting
	if d.Name == "" {
		d.Name = job.NameOf(f.output)
	}
	d.Panel.Kind = layout.PanelKind(f.kind)
	if d.Panel.Size, err = layout.ParseSize(f.panel, unit); err != nil {
		return d, fmt.Errorf("panel: %w", err)
	}
	if d.Panel.EdgeDepth, err = layout.ParseLength(f.edge, unit); err != nil {
		return d, fmt.Errorf("edge: %w", err)
	}
	if d.Border, err = layout.ParseBorder(f.border, unit); err != nil {
		return d, err
	}
	d.Screen = job.Screen{Kind: screen.Kind(f.screen), OneWay: f.oneWay}
	d.Picture.Tones, d.Picture.Burns = job.Tones(f.tones), job.Burns(f.burns)
	d.Picture.QuarterTurns = 0
	if f.quarters < 0 || f.quarters > 3 {
		return d, fmt.Errorf("quarter-turns is %d: choose 0 to 3", f.quarters)
	}
	return d, nil
}

// parseCrop reads x,y,w,h in pixels of a picture of picW x picH.
func parseCrop(text string, picW, picH int) (layout.Crop, error) {
	var v [4]float64
	parts := strings.Split(text, ",")
	if len(parts) != len(v) {
		return layout.Crop{}, fmt.Errorf("crop %q is not of the form x,y,w,h: write, for instance, 0,120,1800,2400", text)
	}
	for i, p := range parts {
		n, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil {
			return layout.Crop{}, fmt.Errorf("crop %q: %q is not a number of pixels: write, for instance, 0,120,1800,2400", text, p)
		}
		v[i] = n
	}
	c := layout.Crop{X: v[0], Y: v[1], W: v[2], H: v[3]}
	// Written so that NaN fails too.
	inside := c.X >= 0 && c.Y >= 0 && c.W >= 1 && c.H >= 1 && c.X+c.W <= float64(picW) && c.Y+c.H <= float64(picH)
	if !inside {
		return c, fmt.Errorf("crop %q does not lie inside the picture of %d x %d pixels: choose a part of 0,0,%d,%d", text, picW, picH, picW, picH)
	}
	return c, nil
}
