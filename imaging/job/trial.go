package job

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/export"
	"undercoat/imaging/match"
	"undercoat/imaging/picture"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// TrialRequest says what to try on a scrap before the panel is burned.
type TrialRequest struct {
	Dir      string                 // made if missing
	Size     layout.Size            // of the part of the picture that is tried
	At       *layout.Point          // its middle on the panel; nil: the most telling part
	Powers   []float64              // in percent, side by side; none: the job's own
	Force    bool                   // replace files that are there
	Picture  *picture.Picture       // decoded already; nil: decode it here
	Progress func(fraction float64) // may be nil
}

const (
	// MaxTrials is how many powers are tried side by side at the most.
	MaxTrials = 12
	// minTrial is the smallest piece that tells anything.
	minTrial layout.MM = 2
	// trialGap is left free between pieces, so that a photo shows the untouched top coat
	// beside each.
	trialGap layout.MM = 5
)

// Trial prepares a trial piece: a part of the picture with the very dots that the
// panel would get, at one power or at several side by side, with a placement note for a
// scrap that was painted like the panel, its proof, and what a photograph of it is later
// read by. All rasters are of one size and go in the same place.
func Trial(ctx context.Context, j *Job, r TrialRequest) (*Handoff, error) {
	if r.Progress == nil {
		r.Progress = func(float64) {}
	}
	d := j.Document
	if err := d.Validate(); err != nil {
		return nil, err
	}
	pl, err := d.Placement()
	if err != nil {
		return nil, err
	}
	if err := r.check(d, pl); err != nil {
		return nil, err
	}
	dev, err := j.Develop(ctx, r.Picture)
	if err != nil {
		return nil, err
	}
	r.Progress(0.2)
	t := trial{d: d, dev: dev, pl: pl, powers: r.Powers}
	if len(t.powers) == 0 {
		t.powers = []float64{d.Setting.PowerPercent}
	}
	if err := t.choose(ctx, r); err != nil {
		return nil, err
	}
	if err := t.burn(ctx, func(f float64) { r.Progress(0.2 + 0.5*f) }); err != nil {
		return nil, err
	}
	return t.write(ctx, r)
}

// CheckTrial tells what Trial would say of a request before it begins.
func (d Document) CheckTrial(r TrialRequest) error {
	pl, err := d.Placement()
	if err != nil {
		return err
	}
	return r.check(d, pl)
}

func (r TrialRequest) check(d Document, pl layout.Placement) error {
	whole := pl.Grid.Size()
	if !(r.Size.W >= minTrial && r.Size.H >= minTrial && r.Size.W <= whole.W && r.Size.H <= whole.H) {
		return fmt.Errorf("trial piece of %s is not possible: choose from %s up to the picture's %s",
			layout.Millimetre.FormatSize(r.Size), layout.Millimetre.FormatSize(layout.Size{W: minTrial, H: minTrial}), layout.Millimetre.FormatSize(whole))
	}
	if r.At != nil {
		dx := math.Abs(float64(r.At.X-pl.Centre.X)) - float64(whole.W-r.Size.W)/2
		dy := math.Abs(float64(r.At.Y-pl.Centre.Y)) - float64(whole.H-r.Size.H)/2
		if !(dx <= 1e-6 && dy <= 1e-6) {
			return fmt.Errorf("trial piece about %g, %g reaches out of the picture: choose a middle from %.4g to %.4g across and from %.4g to %.4g up",
				float64(r.At.X), float64(r.At.Y),
				float64(pl.Centre.X)-float64(whole.W-r.Size.W)/2, float64(pl.Centre.X)+float64(whole.W-r.Size.W)/2,
				float64(pl.Centre.Y)-float64(whole.H-r.Size.H)/2, float64(pl.Centre.Y)+float64(whole.H-r.Size.H)/2)
		}
	}
	if len(r.Powers) > MaxTrials {
		return fmt.Errorf("%d powers are too many: choose at most %d", len(r.Powers), MaxTrials)
	}
	for i, power := range r.Powers {
		s := d.Setting
		s.PowerPercent = power
		if err := s.Validate(d.Machine); err != nil {
			return fmt.Errorf("power %d: %w", i+1, err)
		}
	}
	byColour := d.Match == MatchPower && len(r.Powers) > 1 ||
		(d.Match == MatchSteps || d.Match == MatchNestedSteps) && len(r.Powers) > 0
	if byColour {
		return fmt.Errorf("colours that are matched by %s bring their own powers: leave the powers out", d.Match)
	}
	return nil
}

// trial is a trial piece in the making.
type trial struct {
	d      Document
	dev    *Developed
	pl     layout.Placement // of the whole panel
	powers []float64

	detail     Detail
	chosen     bool         // by the maker
	rows, cols layout.Range // of the whole raster
	scrap      Document     // the job of the scrap
	raster     Raster       // what the scrap gets
	meant      Raster       // the piece at the job's own power
	markStep   int          // of the raster's steps, the one that burns the marks
	markPower  float64      // that they are burned at
}

// choose settles which dots are tried.
func (t *trial) choose(ctx context.Context, r TrialRequest) error {
	var err error
	if r.At != nil {
		t.detail, t.chosen = Detail{Centre: *r.At}, true
	} else if t.detail, err = t.dev.TellingDetail(ctx, t.pl, r.Size); err != nil {
		return err
	}
	pitch := t.pl.Grid.Pitch
	span := func(from, long layout.MM, most int) layout.Range {
		n := min(most, max(1, int(math.Round(float64(long/pitch)))))
		start := min(max(int(math.Round(float64(from/pitch))), 0), most-n)
		return layout.Range{From: start, To: start + n}
	}
	corner := t.pl.Corners[0]
	t.cols = span(t.detail.Centre.X-r.Size.W/2-corner.X, r.Size.W, t.pl.Grid.Cols)
	t.rows = span(corner.Y-t.detail.Centre.Y-r.Size.H/2, r.Size.H, t.pl.Grid.Rows)
	t.detail.Centre = t.pl.Part(t.rows, t.cols).Centre
	return t.makeScrap()
}

// at is the developed job at another power: its tones follow.
func (v *Developed) at(ctx context.Context, power float64) (*Developed, error) {
	if power == v.Document.Setting.PowerPercent {
		return v, nil
	}
	out := *v
	out.Document = v.Document.Clone()
	out.Document.Setting.PowerPercent = power
	var err error
	if out.Table, err = v.Table.With(ctx, out.Document.Recipe()); err != nil {
		return nil, err
	}
	if v.Tones != nil {
		if out.Tones, err = out.Document.ToneTable(out.Table); err != nil {
			return nil, err
		}
	}
	if v.Looks != nil {
		out.Looks, err = out.Document.Looks(ctx, out.Table)
	}
	return &out, err
}

// burn makes the dots: those that the whole panel would get at each power, cut out, and
// those at the job's own power for the look that is meant.
func (t *trial) burn(ctx context.Context, progress func(float64)) error {
	own := t.d.Setting.PowerPercent
	for i, power := range t.powers {
		piece, dose, err := t.piece(ctx, power)
		if err != nil {
			return err
		}
		progress(float64(i+1) / float64(len(t.powers)+1))
		if power == own {
			t.meant = piece
		}
		if len(t.powers) == 1 {
			t.raster = t.onScrap(piece, 0)
			break
		}
		t.raster.Steps = append(t.raster.Steps, RasterStep{
			Step: match.Step{PowerPercent: power, DoseJCM2: dose},
			Dots: t.beside(piece.Dots, i),
		})
	}
	t.burnMarks()
	if t.meant.empty() {
		var err error
		t.meant, _, err = t.piece(ctx, own)
		return err
	}
	return nil
}

// piece is the part of the panel's raster at a power that is tried, and its full dose.
func (t *trial) piece(ctx context.Context, power float64) (Raster, float64, error) {
	dev, err := t.dev.at(ctx, power)
	if err != nil {
		return Raster{}, 0, err
	}
	whole, err := dev.Raster(ctx, t.pl)
	if err != nil {
		return Raster{}, 0, err
	}
	return whole.part(t.rows, t.cols), dev.Document.Recipe().FullDose(), nil
}

// write makes the hand-off of the scrap.
func (t *trial) write(ctx context.Context, r TrialRequest) (*Handoff, error) {
	plan, err := t.scrap.Plan()
	if err != nil {
		return nil, err
	}
	set := export.NewSet(r.Dir, r.Force)
	defer set.Discard()
	if err := addRaster(ctx, set, t.raster, t.pl.Grid.Pitch); err != nil {
		return nil, err
	}
	img, err := t.scrap.PanelProof(ctx, t.recipe(), t.raster, plan.Placement, proofLong, func(f float64) { r.Progress(0.7 + 0.25*f) })
	if err != nil {
		return nil, err
	}
	if err := addMarked(ctx, set, t.scrap, img); err != nil {
		return nil, err
	}
	plan.Cautions = append(plan.Cautions, t.markCautions()...)
	if err := t.addTrialFile(ctx, set, plan.Placement); err != nil {
		return nil, err
	}
	h := &Handoff{Note: t.note(plan), Cautions: plan.Cautions}
	h.Note.Files = set.Entries()
	if err := t.scrap.addNote(set, h.Note); err != nil {
		return nil, err
	}
	return h, h.commit(ctx, set, r.Dir, r.Progress)
}

// recipe is that of the scrap.
func (t *trial) recipe() proof.Recipe { return t.scrap.Recipe() }

// note is the placement note of the scrap.
func (t *trial) note(plan Plan) export.Note {
	n := t.scrap.noteOf(plan, plan.Fit, t.scrap.fitTime(plan.Placement, plan.Fit, &t.raster))
	n.Steps = t.scrap.noteSteps(t.raster)
	if t.raster.Shares != nil {
		n.RasterBits = 8
	}
	part := t.pl.Part(t.rows, t.cols)
	n.Trial = &export.NoteTrial{Centre: export.Rounded(part.Centre), Size: export.RoundedSize(part.Grid.Size()), Why: t.detail.String()}
	if t.chosen {
		n.Trial.Why = "chosen by the maker"
	}
	n.Trial.MarkSide, n.Trial.MarkPowerPercent = t.scrapMarks().MarkSide, t.markPower
	for i, power := range t.powers {
		at := plan.Placement.Part(t.rowsOf(), t.colsOf(i))
		piece := export.NotePiece{
			Number: i + 1, PowerPercent: power, File: RasterFile,
			Centre: export.Rounded(at.Centre), Corners: export.RoundedCorners(at.Corners),
		}
		if len(t.raster.Steps) > 0 && len(t.powers) > 1 {
			piece.File = StepFile(i)
			n.Steps[i].Uncovers = ""
		} else if len(t.raster.Steps) > 0 {
			piece.File = ""
		}
		n.Trial.Pieces = append(n.Trial.Pieces, piece)
	}
	return n
}
