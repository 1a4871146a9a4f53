package job

import (
	"context"
	"fmt"
	"image"
	"io"
	"path/filepath"
	"slices"
	"time"

	"undercoat/imaging/export"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// Request says what to prepare and where to.
type Request struct {
	Dir      string                 // made if missing
	Only     []Output               // empty: the usual parts, see [Request.Parts]
	KeepJob  bool                   // write the job's own file beside the others
	Force    bool                   // replace files that are there
	Picture  *picture.Picture       // decoded already; nil: decode it here
	Sections layout.MM              // burn in sections no longer than this; 0: only where the bed asks for it
	Workshop Workshop               // what the sheets need to know beyond the job
	Wall     *WallView              // on the client's sheet, its watermark over the proof too; nil: a usual room
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
	if r.Progress == nil {
		r.Progress = func(float64) {}
	}
	m, err := newMaking(ctx, j, r)
	if err != nil {
		return nil, err
	}
	set := export.NewSet(r.Dir, r.Force)
	defer set.Discard()
	if err := m.addRasters(ctx, set); err != nil {
		return nil, err
	}
	r.Progress(0.6)
	if err := m.addProof(ctx, set); err != nil {
		return nil, err
	}
	if r.KeepJob {
		if err := set.Add(j.Document.FileName(), j.Write); err != nil {
			return nil, err
		}
	}
	h := &Handoff{Note: m.note(), Cautions: m.plan.Cautions}
	if err := m.addPapers(ctx, set, &h.Note); err != nil {
		return nil, err
	}
	return h, h.commit(ctx, set, r.Dir, r.Progress)
}

// Foresee is what Prepare would say of the job, from its very dots, and writes nothing:
// the note has all but its files.
func Foresee(ctx context.Context, j *Job, r Request) (*Handoff, error) {
	if r.Progress == nil {
		r.Progress = func(float64) {}
	}
	m, err := newMaking(ctx, j, r)
	if err != nil {
		return nil, err
	}
	h := &Handoff{Note: m.note(), Cautions: m.plan.Cautions}
	if _, err = r.Workshop.fillIn(&h.Note, m.d); err != nil {
		return nil, err
	}
	r.Progress(1)
	return h, nil
}

// commit puts the files of a hand-off in their places in dir, and lists them.
func (h *Handoff) commit(ctx context.Context, set *export.Set, dir string, progress func(float64)) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := set.Commit(); err != nil {
		return err
	}
	progress(1)
	for _, name := range set.Names() {
		h.Files = append(h.Files, filepath.Join(dir, name))
	}
	return nil
}

// making is a hand-off in the making.
type making struct {
	d        Document
	r        Request
	dev      *Developed
	plan     Plan
	raster   Raster
	fit      layout.Fit // cut where the fewest dots burn
	sections []export.NoteSection
	seams    []export.NoteSeam
	proof    *image.RGBA // of the whole panel, without words; nil where nothing needs it
}

// newMaking makes the dots and finds out how they are burned.
func newMaking(ctx context.Context, j *Job, r Request) (*making, error) {
	m := &making{d: j.Document, r: r}
	if err := m.d.Validate(); err != nil {
		return nil, err
	}
	if err := r.Workshop.Validate(); err != nil {
		return nil, err
	}
	if r.Workshop.Start.IsZero() && slices.Contains(r.Only, CalendarOutput) {
		return nil, errNoStart
	}
	var err error
	if m.plan, err = m.d.Plan(); err != nil {
		return nil, err
	}
	if m.dev, err = j.Develop(ctx, r.Picture); err != nil {
		return nil, err
	}
	r.Progress(0.3)
	if m.raster, err = m.dev.Raster(ctx, m.plan.Placement); err != nil {
		return nil, err
	}
	if !m.d.HasPicture() && !m.raster.burnsAnything() {
		return nil, errNothingToBurn
	}
	if m.fit, err = m.d.fitOf(m.plan.Placement, m.raster, r.Sections); err != nil {
		return nil, err
	}
	if m.inSections() {
		if m.seams, err = seams(ctx, m.recipe(), m.raster, m.fit.Sections); err != nil {
			return nil, err
		}
	}
	m.plan.Cautions = append(m.plan.Cautions, m.d.LetterCautions(m.dev.Letters, m.plan.Placement)...)
	return m, nil
}

// recipe is the job's, the panel lying as it is burned.
func (m *making) recipe() proof.Recipe {
	r := m.d.Recipe()
	r.Turned = m.fit.Turned
	return r
}

func (m *making) inSections() bool { return m.fit.How == layout.InSections }

// addRasters writes the whole raster, and its sections where there are any.
func (m *making) addRasters(ctx context.Context, set *export.Set) error {
	if !m.r.wants(RasterOutput) {
		return nil
	}
	if err := addRaster(ctx, set, m.raster, m.plan.Placement.Grid.Pitch); err != nil || !m.inSections() {
		return err
	}
	names, err := addSections(ctx, set, m.raster, m.fit.Sections)
	if err != nil {
		return err
	}
	for _, of := range names {
		s := export.NoteSection{Files: of}
		if len(of) == 1 {
			s = export.NoteSection{File: of[0]}
		}
		m.sections = append(m.sections, s)
	}
	return nil
}

// note is the placement note but for its files and what the workshop adds.
func (m *making) note() export.Note {
	burns := m.d.fitTime(m.plan.Placement, m.fit, &m.raster)
	n := m.d.noteOf(m.plan, m.fit, burns)
	for i, s := range m.sections {
		n.Sections[i].File, n.Sections[i].Files = s.File, s.Files
	}
	n.Seams = m.seams
	if m.plan.Fits && m.inSections() { // the maker asked for them
		n.Fits, n.WhyNot = true, ""
	}
	if m.raster.Shares != nil {
		n.RasterBits = 8
	}
	n.Steps = m.d.noteSteps(m.raster)
	return n
}

// noteSteps lists the steps of a raster.
func (d Document) noteSteps(r Raster) []export.NoteStep {
	var out []export.NoteStep
	for i, s := range r.Steps {
		out = append(out, export.NoteStep{
			File: StepFile(i), PowerPercent: s.PowerPercent, DoseJCM2: s.DoseJCM2, Uncovers: d.layerName(s.Layer),
		})
	}
	return out
}

// Check is what Prepare would say of the job, without making its dots: the burn
// time counts every line from edge to edge, and sections are cut evenly.
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
	n := d.noteOf(plan, plan.Fit, d.fitTime(plan.Placement, plan.Fit, nil))
	n.Motion.SkipsBlank = false // every line was counted
	_, err = Workshop{}.fillIn(&n, d)
	return n, err
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

// noteOf is the placement note but for its files.
func (d Document) noteOf(p Plan, fit layout.Fit, burns time.Duration) export.Note {
	n := export.NewNote(p.Placement, d.Reach(), fit)
	n.Job, n.Machine, n.Stack = d.Name, d.Machine.Name, d.Stack.Name
	n.Setting, n.Calibrated = d.Setting, p.Calibrated
	n.BurnTimeS = burns.Seconds()
	n.Motion = export.NoteMotion{AccelerationMMPerS2: d.Machine.AccelerationMMPerS2, SkipsBlank: d.Machine.SkipsBlank}
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
