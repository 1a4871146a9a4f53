package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/layout"
)

type newFlags struct {
	settingFlags
	pictureFlags
	output, picture, name string
	panel, kind, edge     string
	border, crop, unit    string
	replace               bool
	given                 func(option string) bool // on the command line or in the row
}

func newNew() *cobra.Command {
	f := &newFlags{}
	cmd := &cobra.Command{
		Use:   "new -o JOB.undercoat --picture PICTURE | --text LINE",
		Short: "Make a job from a picture or from lettering",
		Long:  "New puts a picture or lines of lettering, a panel, a stack, a machine and a setting into one job file.\nThe picture is cropped to the shape of the picture area, about its centre, unless --crop says otherwise.",
		Example: "  undercoat-cli new -o boat.undercoat --picture boat.jpg --panel 12x16in --border 3mm \\\n" +
			"      --power 30 --speed 1500mm/min --pitch 0.08mm\n" +
			"  undercoat-cli new -o sign.undercoat --panel 200x80mm --text \"Please knock; size=18mm\"",
		Args: exactly(0, "no arguments besides its flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			if cmd.Flags().Changed("picture") && f.picture == "" {
				return usageError{errors.New("--picture is empty: see undercoat-cli new --help")}
			}
			if f.picture == "" && len(f.texts) == 0 {
				return usageError{errors.New("there is neither a picture nor lettering: write --picture FILE, --text, or both")}
			}
			if f.output != standard && !strings.EqualFold(filepath.Ext(f.output), job.Extension) {
				return usageError{fmt.Errorf("the job's file %q does not end in %s: write -o %s", f.output, job.Extension, quoted(f.output+job.Extension))}
			}
			return f.run(cmd)
		},
	}
	f.add(cmd)
	cmd.Flags().StringVarP(&f.output, "output", "o", "", "the job's file, ending in "+job.Extension+", or - for standard output")
	cmd.Flags().BoolVar(&f.replace, "force", false, "replace the job's file if it is there")
	return cmd
}

// add are the options that say what is in the job; rows of a table of orders have
// the same.
func (f *newFlags) add(cmd *cobra.Command) {
	f.settingFlags.add(cmd)
	flags := cmd.Flags()
	flags.StringVar(&f.picture, "picture", "", "the picture: a JPEG, PNG, GIF, WebP, TIFF or BMP file")
	flags.StringVar(&f.name, "name", "", "the job's name (default: that of the file)")
	flags.StringVar(&f.panel, "panel", usualPanel, "width x height of the panel, as 12x16in or 300x400mm, or an entry's name")
	flags.StringVar(&f.kind, "kind", string(layout.Board), "kind of panel: canvas, tile or board (default of a named panel: its own)")
	flags.StringVar(&f.edge, "edge", "0mm", "depth of the panel's edge (default of a named panel: its own)")
	flags.StringVar(&f.border, "border", "6mm", "untouched border, one width or four: left,right,top,bottom")
	flags.StringVar(&f.crop, "crop", "", "part of the picture as x,y,w,h in pixels; it is brought to the picture area's shape")
	flags.StringVar(&f.unit, "unit", "mm", "unit that lengths are shown in, and read in where none is given: mm, cm or in")
	f.pictureFlags.add(cmd)
	f.given = flags.Changed
}

// usualPanel is the size of a panel that nobody named.
const usualPanel = "300x400mm"

func (f *newFlags) run(cmd *cobra.Command) error {
	d, err := f.blank()
	if err != nil {
		return err
	}
	j, err := f.job(cmd.Context(), d)
	if err != nil {
		return err
	}
	if f.output == standard {
		return j.Write(cmd.OutOrStdout())
	}
	if err := j.Save(f.output, f.replace); err != nil {
		return err
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "wrote %s: next, undercoat-cli prepare %s -o DIR\n", f.output, quoted(f.output))
	return nil
}

// job is the document with its picture, framed as asked, and its fonts.
func (f *newFlags) job(ctx context.Context, d job.Document) (*job.Job, error) {
	j := &job.Job{Document: d}
	var err error
	if f.picture != "" {
		if j, err = f.framed(ctx, d); err != nil {
			return nil, err
		}
	}
	for _, path := range f.fonts {
		data, err := job.ReadBytes(path)
		if err != nil {
			return nil, err
		}
		if j, err = j.WithFont(job.NameOf(path), data); err != nil {
			return nil, err
		}
	}
	if _, err := j.Document.Letters(j.Fonts); err != nil {
		return nil, err
	}
	return j, j.Document.Validate()
}

// framed is the job of the picture, turned, straightened and cropped.
func (f *newFlags) framed(ctx context.Context, d job.Document) (*job.Job, error) {
	data, err := job.ReadBytes(f.picture)
	if err != nil {
		return nil, err
	}
	j, pic, err := job.New(ctx, d, filepath.Base(f.picture), data)
	if err != nil {
		return nil, err
	}
	p := &j.Document.Picture
	if *p, err = f.frame(*p); err != nil {
		return nil, err
	}
	w, h, err := p.Size(pic)
	if err != nil {
		return nil, err
	}
	p.Crop = layout.Crop{W: float64(w), H: float64(h)}
	if f.crop != "" {
		if p.Crop, err = parseCrop(f.crop, w, h); err != nil {
			return nil, err
		}
	}
	j.Document, err = j.Document.Refit(pic)
	return j, err
}

// quoted is a path as it can be typed again.
func quoted(path string) string {
	if strings.ContainsFunc(path, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("'\"()&;$`*?<>|", r) }) {
		return strconv.Quote(path)
	}
	return path
}

func (f *newFlags) blank() (job.Document, error) {
	defaults, _ := library.Open().Defaults() // broken ones are none, and are named elsewhere
	if defaults.Unit != "" && !f.given("unit") {
		f.unit = defaults.Unit
	}
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
	if d.Name == "" && f.output == standard {
		d.Name = job.NameOf(f.picture)
	}
	if d.Name == "" {
		d.Name = job.NameOf(f.output)
	}
	if d.Panel, err = f.sized(unit, defaults.Panel); err != nil {
		return d, err
	}
	if d.Border, err = layout.ParseBorder(f.border, unit); err != nil {
		return d, err
	}
	return f.pictureFlags.document(d, unit)
}

// sized is the panel: an entry of the library by its name, or a size. Kind and edge
// that are given hold for either.
func (f *newFlags) sized(unit layout.Unit, usual string) (layout.Panel, error) {
	name := f.panel
	if usual != "" && !f.given("panel") {
		name = usual
	}
	var p layout.Panel
	named := false
	if size, err := layout.ParseSize(name, unit); err == nil || name == "" {
		if p.Size = size; err != nil {
			return p, fmt.Errorf("panel: %w", err)
		}
	} else if entry, _, missing := job.FindPanel(name); missing == nil {
		p, named = entry, true
	} else {
		var none *library.NoEntryError
		if !errors.As(missing, &none) {
			return p, missing // it is there, and broken
		}
		return p, fmt.Errorf("panel: %w; or name a panel of the library: see undercoat-cli library list --kind panel", err)
	}
	if !named || f.given("kind") {
		p.Kind = layout.PanelKind(f.kind)
	}
	if !named || f.given("edge") {
		var err error
		if p.EdgeDepth, err = layout.ParseLength(f.edge, unit); err != nil {
			return p, fmt.Errorf("edge: %w", err)
		}
	}
	return p, nil
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
