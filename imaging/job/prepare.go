package job

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"undercoat/imaging/export"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

// Output is a part of the hand-off.
type Output string

const (
	RasterOutput    Output = "raster"
	PlacementOutput Output = "placement"
	ProofOutput     Output = "proof"
)

// Outputs is every part, in the order they are made.
func Outputs() []Output { return []Output{RasterOutput, PlacementOutput, ProofOutput} }

// The names of the files in the hand-off.
const (
	RasterFile        = "raster.png"
	PlacementTextFile = "placement.txt"
	PlacementJSONFile = "placement.json"
	ProofFile         = "proof.png"
)

// proofLong is the long side of the hand-off's proof in pixels.
const proofLong = 1800

// Request says what to prepare and where to.
type Request struct {
	Dir      string                 // made if missing
	Only     []Output               // empty: every part
	KeepJob  bool                   // write the job's own file beside the others
	Force    bool                   // replace files that are there
	Picture  *picture.Picture       // decoded already; nil: decode it here
	Progress func(fraction float64) // may be nil
}

// Handoff is what was prepared.
type Handoff struct {
	Note     export.Note
	Cautions []string // about this job, which also stand in the note
	Files    []string // paths, in the order they were made
}

// Prepare runs the job from picture to hand-off. The files of a hand-off appear
// together at the end or not at all.
func Prepare(ctx context.Context, j *Job, r Request) (*Handoff, error) {
	report := r.Progress
	if report == nil {
		report = func(float64) {}
	}
	d := j.Document
	if err := d.Validate(); err != nil {
		return nil, err
	}
	plan, err := d.Plan()
	if err != nil {
		return nil, err
	}
	dev, err := j.Develop(ctx, r.Picture)
	if err != nil {
		return nil, err
	}
	report(0.3)
	raster, err := dev.Raster(ctx, plan.Placement)
	if err != nil {
		return nil, err
	}
	if !d.HasPicture() && !raster.burnsAnything() {
		return nil, errNothingToBurn
	}
	plan.Cautions = append(plan.Cautions, d.LetterCautions(dev.Letters, plan.Placement)...)
	set := export.NewSet(r.Dir, r.Force)
	defer set.Discard()
	if r.wants(RasterOutput) {
		if err := addRaster(ctx, set, raster, plan.Placement.Grid.Pitch); err != nil {
			return nil, err
		}
	}
	report(0.6)
	if r.wants(ProofOutput) {
		err := d.addProof(ctx, set, raster, plan.Placement, func(f float64) { report(0.6 + 0.35*f) })
		if err != nil {
			return nil, err
		}
	}
	if r.KeepJob {
		if err := set.Add(d.FileName(), j.Write); err != nil {
			return nil, err
		}
	}
	h := &Handoff{Note: d.note(plan, d.RasterTime(plan.Placement.Grid, raster)), Cautions: plan.Cautions}
	h.Note.Files = set.Entries()
	if raster.Shares != nil {
		h.Note.RasterBits = 8
	}
	for i, s := range raster.Steps {
		h.Note.Steps = append(h.Note.Steps, export.NoteStep{
			File: StepFile(i), PowerPercent: s.PowerPercent, DoseJCM2: s.DoseJCM2, Uncovers: d.layerName(s.Layer),
		})
	}
	if r.wants(PlacementOutput) {
		if err := d.addNote(set, h.Note); err != nil {
			return nil, err
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := set.Commit(); err != nil {
		return nil, err
	}
	report(1)
	for _, name := range set.Names() {
		h.Files = append(h.Files, filepath.Join(r.Dir, name))
	}
	return h, nil
}

// Check is what Prepare would say of the job, without making its dots: the burn
// time counts every line from edge to edge.
func Check(ctx context.Context, j *Job) (export.Note, error) {
	d := j.Document
	plan, err := d.Plan()
	if err != nil {
		return export.Note{}, err
	}
	pic, err := j.Open(ctx)
	if err != nil {
		return export.Note{}, err
	}
	if err := d.CheckCrop(pic); err != nil {
		return export.Note{}, err
	}
	letters, err := d.Letters(j.Fonts)
	if err != nil {
		return export.Note{}, err
	}
	if pic == nil && !slices.ContainsFunc(d.Lettering, func(l lettering.Line) bool { return l.Burn }) {
		return export.Note{}, errNothingToBurn
	}
	plan.Cautions = append(plan.Cautions, d.LetterCautions(letters, plan.Placement)...)
	return d.note(plan, d.BurnTime(plan.Placement.Grid, nil)), nil
}

// layerName is what a layer of the stack is called, the top coat being 0.
func (d Document) layerName(layer int) string {
	if layer < len(d.Stack.Coats) {
		return d.Stack.Coats[layer].Name
	}
	return d.Stack.Ground.Name
}

// StepFile is what the raster of a step is called, the first being 0.
func StepFile(step int) string { return fmt.Sprintf("step-%d.png", step+1) }

func addRaster(ctx context.Context, set *export.Set, r Raster, pitch layout.MM) error {
	if r.Shares != nil {
		return set.Add(RasterFile, func(w io.Writer) error {
			return export.WriteShares(export.UntilDone(ctx, w), r.Shares, pitch)
		})
	}
	for i, dots := range r.steps() {
		name := RasterFile
		if r.Dots == nil {
			name = StepFile(i)
		}
		err := set.Add(name, func(w io.Writer) error {
			return export.WriteRaster(export.UntilDone(ctx, w), dots, pitch)
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// note is the placement note but for its files.
func (d Document) note(p Plan, burns time.Duration) export.Note {
	n := export.NewNote(p.Placement, d.Machine.RunUp, d.Machine.Bed)
	n.Job, n.Machine, n.Stack = d.Name, d.Machine.Name, d.Stack.Name
	n.Setting, n.Calibrated = d.Setting, p.Calibrated
	n.BurnTimeS = burns.Seconds()
	n.Caution(p.Cautions...)
	return n
}

func (d Document) addNote(set *export.Set, n export.Note) error {
	data, err := n.JSON()
	if err != nil {
		return err
	}
	for _, f := range []struct {
		name string
		data []byte
	}{{PlacementTextFile, []byte(n.Text(d.UnitOf()))}, {PlacementJSONFile, data}} {
		err := set.Add(f.name, func(w io.Writer) error {
			_, err := w.Write(f.data)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func (d Document) addProof(ctx context.Context, set *export.Set, raster Raster, pl layout.Placement, progress func(float64)) error {
	img, err := d.PanelProof(ctx, d.Recipe(), raster, pl, proofLong, progress)
	if err != nil {
		return err
	}
	perMetre := float64(img.Bounds().Dx()) / float64(d.Panel.Size.W) * 1000
	if img, err = d.Marked(img); err != nil {
		return err
	}
	return set.Add(ProofFile, func(w io.Writer) error {
		return export.WriteProof(export.UntilDone(ctx, w), img, int(math.Round(perMetre)))
	})
}

func (r Request) wants(o Output) bool { return len(r.Only) == 0 || slices.Contains(r.Only, o) }

// ParseOutputs reads the names of parts.
func ParseOutputs(names []string) ([]Output, error) {
	var out []Output
	for _, n := range names {
		o := Output(strings.TrimSpace(n))
		if !slices.Contains(Outputs(), o) {
			return nil, fmt.Errorf("%q is not a part of the hand-off: choose from raster, placement, proof", n)
		}
		out = append(out, o)
	}
	return out, nil
}
