package job

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"

	"undercoat/imaging/burn"
	"undercoat/imaging/export"
	"undercoat/imaging/match"
	"undercoat/imaging/plane"
	"undercoat/imaging/strict"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// The files of a trial's folder that only a trial has: what a photograph of the burned
// scrap is read by, and the piece as it looks at the job's own power.
const (
	TrialFile = "trial.json"
	MeantFile = "meant.png"
)

// The kind and version of a trial's file.
const (
	TrialKind    = "undercoat-trial"
	TrialVersion = 1
)

// trialFile is TrialFile as it stands in the folder.
type trialFile struct {
	Kind       string          `json:"kind"`
	Version    int             `json:"version"`
	Job        json.RawMessage `json:"job"` // of the scrap, at the first power
	MarkSide   layout.MM       `json:"mark_side_mm"`
	MeantPower float64         `json:"meant_power_percent"`
	MeantSize  [2]int          `json:"meant_pixels"` // of MeantFile, without words below
	Rasters    []trialRaster   `json:"rasters"`
	Pieces     []trialPiece    `json:"pieces"`
}

type trialRaster struct {
	File         string  `json:"file"`
	PowerPercent float64 `json:"power_percent"`
}

type trialPiece struct {
	PowerPercent float64 `json:"power_percent"`
	Cols         [2]int  `json:"columns"` // of the rasters, from and to
	Rows         [2]int  `json:"rows"`
}

// meantLong is the long side of the look that is meant, in pixels.
const meantLong = 600

// addTrialFile writes what a photograph of the scrap is read by.
func (t *trial) addTrialFile(ctx context.Context, set *export.Set, pl layout.Placement) error {
	size, err := t.addMeant(ctx, set)
	if err != nil {
		return err
	}
	job, err := t.scrap.JSON()
	if err != nil {
		return err
	}
	f := trialFile{
		Kind: TrialKind, Version: TrialVersion, Job: job,
		MarkSide: t.scrapMarks().MarkSide, MeantPower: t.d.Setting.PowerPercent, MeantSize: size,
		Rasters: []trialRaster{{RasterFile, t.powers[0]}},
	}
	if n := len(t.raster.Steps); n > 0 {
		f.Rasters = make([]trialRaster, n)
		for i, s := range t.raster.Steps {
			f.Rasters[i] = trialRaster{StepFile(i), s.PowerPercent}
		}
	}
	for i, power := range t.powers {
		cols, rows := t.colsOf(i), t.rowsOf()
		f.Pieces = append(f.Pieces, trialPiece{power, [2]int{cols.From, cols.To}, [2]int{rows.From, rows.To}})
	}
	data, err := json.MarshalIndent(f, "", "  ")
	if err != nil {
		return fmt.Errorf("writing the trial: %w", err)
	}
	return set.Add(TrialFile, func(w io.Writer) error {
		_, err := w.Write(append(data, '\n'))
		return err
	})
}

// addMeant writes the piece as it is meant to look, and gives its size in pixels.
func (t *trial) addMeant(ctx context.Context, set *export.Set) ([2]int, error) {
	part := t.pl.Part(t.rows, t.cols)
	part.Panel.Size = part.Grid.Size()
	part.Corners = layout.Area{Size: part.Panel.Size}.Corners()
	img, err := t.d.PanelProof(ctx, t.d.Recipe(), t.meant, part, meantLong, nil)
	if err != nil {
		return [2]int{}, err
	}
	size := [2]int{img.Rect.Dx(), img.Rect.Dy()}
	perMetre := int(math.Round(float64(size[0]) / float64(part.Panel.Size.W) * 1000))
	if img, err = t.d.Marked(img); err != nil {
		return size, err
	}
	return size, set.Add(MeantFile, func(w io.Writer) error {
		return export.WriteProof(export.UntilDone(ctx, w), img, perMetre)
	})
}

// TrialFolder is a trial as it was prepared: what a photograph of it is held against.
type TrialFolder struct {
	Scrap      Document // the job of the scrap, at the first power
	Placement  layout.Placement
	Raster     Raster // of the whole scrap, marks and all
	Marks      swatch.Chart
	Pieces     []TrialPiece
	Meant      *image.RGBA // a piece as it is meant to look
	MeantPower float64     // the job's own, in percent
}

// TrialPiece is one piece of a trial, and the dots of the raster that it takes.
type TrialPiece struct {
	PowerPercent float64
	Cols, Rows   layout.Range
}

// ReadTrial reads the folder that [Trial] wrote. Every file that the comparison stands on
// must be there and as it was written.
func ReadTrial(dir string) (*TrialFolder, error) {
	sums, err := trialSums(dir)
	if err != nil {
		return nil, err
	}
	data, err := trialBytes(dir, TrialFile, sums)
	if err != nil {
		return nil, err
	}
	path := filepath.Join(dir, TrialFile)
	var f trialFile
	if err := strict.Decode(data, &f); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if f.Kind != TrialKind {
		return nil, fmt.Errorf("%s: kind is %q: choose a folder whose %s is %q", path, f.Kind, TrialFile, TrialKind)
	}
	if f.Version != TrialVersion {
		return nil, fmt.Errorf("%s: version is %d: this program reads version %d, a newer one may read the file", path, f.Version, TrialVersion)
	}
	t, err := f.folder()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if t.Raster, err = f.raster(dir, sums, t.Placement.Grid); err != nil {
		return nil, err
	}
	t.Meant, err = f.meant(dir, sums)
	return t, err
}

// trialSums are the checksums of a trial's files, as its placement note has them.
func trialSums(dir string) ([]export.Entry, error) {
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return nil, fmt.Errorf("there is no folder %s: name the one that the trial was written to", dir)
	}
	if _, err := os.Stat(filepath.Join(dir, TrialFile)); errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("%s holds no %s, so it is not the folder of a trial: name the one that the trial was written to", dir, TrialFile)
	}
	path := filepath.Join(dir, PlacementJSONFile)
	data, err := ReadBytes(path)
	if err != nil {
		return nil, err
	}
	var note struct {
		Files []export.Entry `json:"files"`
	}
	if err := json.Unmarshal(data, &note); err != nil {
		return nil, fmt.Errorf("%s cannot be read (%w): copy it from where the trial was written", path, err)
	}
	return note.Files, nil
}

// trialBytes are those of a file of the folder, as they were written.
func trialBytes(dir, name string, sums []export.Entry) ([]byte, error) {
	path := filepath.Join(dir, name)
	i := slices.IndexFunc(sums, func(e export.Entry) bool { return e.Name == name })
	if i < 0 {
		return nil, fmt.Errorf("%s does not belong to the placement note beside it: keep the files of a trial together, or write it anew", path)
	}
	data, err := ReadBytes(path)
	if err != nil {
		return nil, err
	}
	if Checksum(data) != sums[i].SHA256 {
		return nil, fmt.Errorf("%s was changed after the trial was written: take the file as it was written, for the scrap was burned from that", path)
	}
	return data, nil
}

// folder is what the file itself tells.
func (f trialFile) folder() (*TrialFolder, error) {
	d, err := ParseDocument(f.Job)
	if err != nil {
		return nil, fmt.Errorf("job: %w", err)
	}
	pl, err := d.Placement()
	if err != nil {
		return nil, err
	}
	if len(f.Pieces) < 1 || len(f.Pieces) > MaxTrials {
		return nil, fmt.Errorf("%d pieces are not possible: a trial has 1 to %d", len(f.Pieces), MaxTrials)
	}
	size := pl.Grid.Size()
	if !(f.MarkSide > 0 && f.MarkSide <= min(size.W, size.H)/2) {
		return nil, fmt.Errorf("mark_side_mm %g is out of range: it is above 0 and up to half the shorter side", float64(f.MarkSide))
	}
	t := &TrialFolder{Scrap: d, Placement: pl, Marks: marksOf(size, f.MarkSide), MeantPower: f.MeantPower}
	for i, p := range f.Pieces {
		piece := TrialPiece{p.PowerPercent, layout.Range{From: p.Cols[0], To: p.Cols[1]}, layout.Range{From: p.Rows[0], To: p.Rows[1]}}
		inside := func(r layout.Range, n int) bool { return r.From >= 0 && r.To > r.From && r.To <= n }
		if !inside(piece.Cols, pl.Grid.Cols) || !inside(piece.Rows, pl.Grid.Rows) || i > 0 && piece.Cols.From < t.Pieces[i-1].Cols.To {
			return nil, fmt.Errorf("pieces[%d] does not lie in the raster of %d x %d dots beside the others", i, pl.Grid.Cols, pl.Grid.Rows)
		}
		s := d.Setting
		s.PowerPercent = p.PowerPercent
		if err := s.Validate(d.Machine); err != nil {
			return nil, fmt.Errorf("pieces[%d]: %w", i, err)
		}
		t.Pieces = append(t.Pieces, piece)
	}
	return t, nil
}

// raster reads the rasters that the scrap was burned from.
func (f trialFile) raster(dir string, sums []export.Entry, g layout.Grid) (Raster, error) {
	var out Raster
	for _, r := range f.Rasters {
		src, err := f.oneRaster(dir, r.File, sums, g)
		if err != nil {
			return Raster{}, err
		}
		dots, oneBit := burn.Dots(src)
		switch {
		case r.File != RasterFile && oneBit:
			out.Steps = append(out.Steps, RasterStep{match.Step{PowerPercent: r.PowerPercent}, dots})
		case len(f.Rasters) == 1 && oneBit:
			return Raster{Dots: dots}, nil
		case len(f.Rasters) == 1:
			return Raster{Shares: sharesOf(src)}, nil
		default:
			return Raster{}, fmt.Errorf("%s is not black and white alone, as a raster of several is", filepath.Join(dir, r.File))
		}
	}
	if out.empty() {
		return Raster{}, fmt.Errorf("%s names no raster: write the trial anew", filepath.Join(dir, TrialFile))
	}
	return out, nil
}

func (f trialFile) oneRaster(dir, name string, sums []export.Entry, g layout.Grid) (burn.Source, error) {
	data, err := trialBytes(dir, name, sums)
	if err != nil {
		return nil, err
	}
	src, err := export.ReadRaster(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(dir, name), err)
	}
	if w, h := src.Size(); w != g.Cols || h != g.Rows {
		return nil, fmt.Errorf("%s is %d x %d dots where the trial has %d x %d", filepath.Join(dir, name), w, h, g.Cols, g.Rows)
	}
	return src, nil
}

// sharesOf are the shares of power of a raster.
func sharesOf(src burn.Source) *plane.Grey16 {
	w, h := src.Size()
	out, row := plane.NewGrey16(w, h), make([]float32, w)
	for y := range h {
		src.ShareRow(y, row)
		for x, v := range row {
			out.Row(y)[x] = uint16(math.Round(float64(v) * math.MaxUint16))
		}
	}
	return out
}

// meant reads the look that is meant, without the words below it.
func (f trialFile) meant(dir string, sums []export.Entry) (*image.RGBA, error) {
	data, err := trialBytes(dir, MeantFile, sums)
	if err != nil {
		return nil, err
	}
	path := filepath.Join(dir, MeantFile)
	const most = 4 * meantLong // words below a picture make it longer
	head, err := png.DecodeConfig(bytes.NewReader(data))
	if err == nil && (head.Width > most || head.Height > most) {
		err = fmt.Errorf("it is %d x %d pixels", head.Width, head.Height)
	}
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read (%w): write the trial anew", path, err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read (%w): write the trial anew", path, err)
	}
	w, h := f.MeantSize[0], f.MeantSize[1]
	if w < 1 || h < 1 || w > img.Bounds().Dx() || h > img.Bounds().Dy() {
		return nil, fmt.Errorf("%s is %v, and its picture %d x %d pixels: write the trial anew", path, img.Bounds().Size(), w, h)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			out.Set(x, y, img.At(img.Bounds().Min.X+x, img.Bounds().Min.Y+y))
		}
	}
	return out, nil
}
