package job

import (
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// The marks in the four corners of a scrap, by which a photograph of it is read.
const (
	trialQuiet    layout.MM = 2 // of untouched top coat outside the marks
	trialClear    layout.MM = 2 // between a mark and the pieces
	leastMark     layout.MM = 4
	markOfTheLong           = 0.03 // of the scrap's long side: still some 20 pixels of a thousand
)

func (t *trial) dots(l layout.MM) int { return max(1, int(math.Round(float64(l/t.pl.Grid.Pitch)))) }

// gapDots is the room between two pieces in dots.
func (t *trial) gapDots() int { return t.dots(trialGap) }

// pieceDots is what the pieces take, the gaps between them included.
func (t *trial) pieceDots() (cols, rows int) {
	n := len(t.powers)
	return n*t.cols.Len() + (n-1)*t.gapDots(), t.rows.Len()
}

// markDots is the side of a mark in dots.
func (t *trial) markDots() int {
	cols, rows := t.pieceDots()
	long := layout.MM(max(cols, rows)) * t.pl.Grid.Pitch
	return t.dots(max(leastMark, markOfTheLong*long))
}

// rimDots is what lies round the pieces in the raster: the marks stand in its corners.
func (t *trial) rimDots() int { return t.markDots() + t.dots(trialClear) }

// rowsOf and colsOf are the dots of a piece on the scrap.
func (t *trial) rowsOf() layout.Range {
	return layout.Range{From: t.rimDots(), To: t.rimDots() + t.rows.Len()}
}

func (t *trial) colsOf(i int) layout.Range {
	from := t.rimDots() + i*(t.cols.Len()+t.gapDots())
	return layout.Range{From: from, To: from + t.cols.Len()}
}

// makeScrap is the job of the scrap: as large as the pieces and the room round them,
// and without what only the whole panel has.
func (t *trial) makeScrap() error {
	cols, rows := t.pieceDots()
	pitch, rim := t.pl.Grid.Pitch, 2*t.rimDots()
	s := t.d.Clone()
	if name := t.d.Name + ", trial piece"; nameError(name) == nil {
		s.Name = name
	}
	s.Lettering, s.Fonts, s.Finished = nil, nil, nil
	s.Picture = Picture{UnderClear: s.Picture.UnderClear, Burns: s.Picture.Burns, Tones: s.Picture.Tones}
	s.Border = layout.Even(trialQuiet)
	s.Panel.Size = layout.Size{
		W: layout.MM(cols+rim)*pitch + 2*trialQuiet,
		H: layout.MM(rows+rim)*pitch + 2*trialQuiet,
	}
	s.Setting.PowerPercent = t.powers[0]
	t.scrap = s
	if err := s.Panel.Validate(); err != nil {
		return fmt.Errorf("the scrap for %d pieces: %w", len(t.powers), err)
	}
	return nil
}

// beside is a piece in its place on the scrap, which is left blank around it.
func (t *trial) beside(piece *plane.Bits, i int) *plane.Bits {
	w, h := t.scrapDots()
	out := plane.NewBits(w, h)
	x0, y0 := t.colsOf(i).From, t.rowsOf().From
	for y := range piece.H {
		eachDot(piece.Row(y), func(x int) { out.Set(x0+x, y0+y) })
	}
	return out
}

func (t *trial) scrapDots() (w, h int) {
	w, h = t.pieceDots()
	return w + 2*t.rimDots(), h + 2*t.rimDots()
}

// onScrap is beside for a raster of any kind.
func (t *trial) onScrap(piece Raster, i int) Raster {
	switch {
	case piece.Dots != nil:
		return Raster{Dots: t.beside(piece.Dots, i)}
	case piece.Shares != nil:
		w, h := t.scrapDots()
		out := plane.NewGrey16(w, h)
		for y := range piece.Shares.H {
			copy(out.Row(t.rowsOf().From + y)[t.colsOf(i).From:], piece.Shares.Row(y))
		}
		return Raster{Shares: out}
	}
	var steps []RasterStep
	for _, s := range piece.Steps {
		steps = append(steps, RasterStep{s.Step, t.beside(s.Dots, i)})
	}
	return Raster{Steps: steps}
}

// scrapMarks are the marks of the scrap, as a chart has them.
func (t *trial) scrapMarks() swatch.Chart {
	w, h := t.scrapDots()
	pitch := t.pl.Grid.Pitch
	return marksOf(layout.Size{W: layout.MM(w) * pitch, H: layout.MM(h) * pitch}, layout.MM(t.markDots())*pitch)
}

// marksOf are marks in the corners of a raster of a size, round its middle.
func marksOf(raster layout.Size, side layout.MM) swatch.Chart {
	return swatch.Chart{Size: raster, Marks: layout.Area{Size: raster}.Corners(), MarkSide: side}
}

// burnMarks burns the marks with whichever raster makes them stand out best.
func (t *trial) burnMarks() {
	w, h := t.scrapDots()
	grid := layout.Grid{Cols: w, Rows: h, Pitch: t.pl.Grid.Pitch}
	marks := t.scrapMarks()
	t.markPower = t.powers[0]
	switch {
	case t.raster.Dots != nil:
		marks.EachMarkDot(grid, t.raster.Dots.Set)
	case t.raster.Shares != nil:
		marks.EachMarkDot(grid, func(x, y int) { t.raster.Shares.Row(y)[x] = math.MaxUint16 })
	default:
		most := -1.0
		for i, s := range t.raster.Steps {
			if d := t.standsOut(s.PowerPercent); d > most {
				t.markStep, t.markPower, most = i, s.PowerPercent, d
			}
		}
		marks.EachMarkDot(grid, t.raster.Steps[t.markStep].Dots.Set)
	}
}

// standsOut is how well marks at a power are seen beside the top coat.
func (t *trial) standsOut(power float64) float64 {
	s := t.d.Setting
	s.PowerPercent = power
	return swatch.StandsOut(t.d.Machine, t.d.Stack, s)
}

func (t *trial) markCautions() []string {
	if t.standsOut(t.markPower) >= swatch.HardlySeen {
		return nil
	}
	return []string{"the corner marks may hardly show: try higher powers as well, or name the four corners when the photograph is compared"}
}

// empty tells whether a raster has not been made.
func (r Raster) empty() bool { return r.Dots == nil && r.Shares == nil && r.Steps == nil }
