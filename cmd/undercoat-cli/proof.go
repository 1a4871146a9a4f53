package main

import (
	"fmt"
	"image"
	"io"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

type proofFlags struct {
	output, whatIf, distance, part string
	long                           int
	replace                        bool
}

// whatIfs are the variations of a burn by the names of the command line.
var whatIfs = map[string]proof.Variation{
	"as-set":        proof.AsSet,
	"less-light":    proof.LessLight,
	"more-light":    proof.MoreLight,
	"thinner-paint": proof.ThinnerPaint,
	"thicker-paint": proof.ThickerPaint,
	"out-of-focus":  proof.OutOfFocus,
}

func newProof() *cobra.Command {
	f := &proofFlags{}
	cmd := &cobra.Command{
		Use:   "proof JOB.undercoat -o PROOF.png",
		Short: "Predict the look of the finished panel, or of a part of it",
		Long: "Proof exposes the job's very dots, works out what shows through, and writes the\n" +
			"picture: of the whole panel, or of a part down to single dots; close up, or as it looks\n" +
			"from a distance; as set, or as it comes out when light, paint or focus are off.",
		Example: "  undercoat-cli proof boat.undercoat -o boat.png\n" +
			"  undercoat-cli proof boat.undercoat -o thick.png --what-if thicker-paint --distance 1500mm\n" +
			"  undercoat-cli proof boat.undercoat -o dots.png --part 0,0,4,3",
		Args: exactly(1, "one job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			return f.run(cmd, args[0])
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.output, "output", "o", "", "the PNG file to write")
	flags.StringVar(&f.whatIf, "what-if", "as-set", "as-set, less-light, more-light (by 10 %), thinner-paint, thicker-paint (by 10 %), out-of-focus")
	flags.StringVar(&f.distance, "distance", "0", "distance it is looked at from, as 1500mm; 0 is close up")
	flags.StringVar(&f.part, "part", "", "only this part of the panel: x,y of its middle from the panel's centre, width, height, in mm")
	flags.IntVar(&f.long, "size", 1800, "pixels on the long side")
	flags.BoolVar(&f.replace, "force", false, "replace the file if it is there")
	return cmd
}

func (f *proofFlags) request() (job.ProofRequest, error) {
	r := job.ProofRequest{Long: f.long}
	var known bool
	if r.Variation, known = whatIfs[f.whatIf]; !known {
		return r, fmt.Errorf("what-if %q is not known: see undercoat-cli proof --help for the choices", f.whatIf)
	}
	var err error
	if r.Distance, err = layout.ParseLength(f.distance, layout.Millimetre); err != nil {
		return r, fmt.Errorf("distance: %w", err)
	}
	if f.part != "" {
		if r.Part, err = parsePart(f.part); err != nil {
			return r, err
		}
	}
	return r, nil
}

// parsePart reads x,y,w,h in millimetres from the panel's centre.
func parsePart(text string) (*layout.Area, error) {
	v, err := numbers(text)
	if err != nil || len(v) != 4 {
		return nil, fmt.Errorf("part %q is not of the form x,y,width,height: write, for instance, 0,0,40,30", text)
	}
	for _, n := range v {
		if math.Abs(n) > float64(layout.MaxLength) {
			return nil, fmt.Errorf("part %q reaches too far: choose a part of the panel", text)
		}
	}
	return &layout.Area{
		Centre: layout.Point{X: layout.MM(v[0]), Y: layout.MM(v[1])},
		Size:   layout.Size{W: layout.MM(v[2]), H: layout.MM(v[3])},
	}, nil
}

// numbers reads finite numbers with commas between them.
func numbers(text string) ([]float64, error) {
	var out []float64
	for _, part := range strings.Split(text, ",") {
		n, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
			return nil, fmt.Errorf("%q is not a number", part)
		}
		out = append(out, n)
	}
	return out, nil
}

func (f *proofFlags) run(cmd *cobra.Command, path string) error {
	r, err := f.request()
	if err != nil {
		return err
	}
	if err := pngName(f.output); err != nil {
		return err
	}
	j, err := readJob(cmd, path)
	if err != nil {
		return err
	}
	v, err := j.Develop(cmd.Context(), nil)
	if err != nil {
		return err
	}
	bar := newProgress(cmd.ErrOrStderr())
	img, err := v.Proof(cmd.Context(), r, bar.show)
	bar.clear()
	if err != nil {
		return err
	}
	shown := j.Document.Panel.Size
	if r.Part != nil {
		shown = r.Part.Size
	}
	perMetre := int(math.Round(float64(img.Rect.Dx()) / float64(shown.W) * 1000))
	return writeProof(cmd, f.output, f.replace, j.Document, img, perMetre)
}

// pngName asks that a picture's file is called what it is.
func pngName(path string) error {
	if !strings.EqualFold(filepath.Ext(path), ".png") {
		return usageError{fmt.Errorf("proofs are PNG files and %q does not end in .png: write -o %s", path, quoted(path+".png"))}
	}
	return nil
}

// writeProof marks a proof and writes it.
func writeProof(cmd *cobra.Command, path string, replace bool, d job.Document, img *image.RGBA, perMetre int) error {
	img, err := d.Marked(img)
	if err != nil {
		return err
	}
	err = export.WriteFile(path, replace, func(w io.Writer) error {
		return export.WriteProof(export.UntilDone(cmd.Context(), w), img, perMetre)
	})
	if err == nil && !d.Stack.Curve.Calibrated {
		fmt.Fprintln(cmd.ErrOrStderr(), "caution: "+export.Uncalibrated)
	}
	return err
}
