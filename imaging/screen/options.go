package screen

import (
	"fmt"
	"math"

	"undercoat/layout"
)

// Options choose a screen. The zero value is Floyd-Steinberg, every second row
// from right to left. [Kind.Uses] tells which of the rest a kind takes notice of.
// Options may be compared with ==; two tables of cells are then the same only if
// they are one.
type Options struct {
	Kind Kind
	// OneWay runs every row from left to right. It gives the textbook order of
	// the dots, and slanting worms in even tints.
	OneWay bool
	// Plain is each method as it was published, for comparison: error diffusion
	// begins with no error and drops what falls off the raster's edge, which
	// leaves the first rows of light tints empty; Atkinson loses a quarter of it
	// and with it the lightest and darkest tints; a Bayer matrix gives no more
	// tints than it has places.
	Plain bool
	// Seed chooses among screens that are equally good; the same one gives the same
	// dots.
	Seed uint64

	// MinDot and MinGap are the least numbers of burned dots, and of gaps, in a
	// row, 1..MaxRun; 0 reads as 1. They are for machines and paints that do not
	// mark a single dot. Error diffusion keeps them, except in what is drawn in
	// pure tints. The other kinds do not: give Clustered fewer lines instead.
	MinDot, MinGap int

	// Cells is what dots burn together with their neighbours, for BeamAware: see
	// BeamCells. nil is GeometricCells(DefaultRadius), a stand-in that is no
	// machine's.
	Cells *CellTable

	Matrix int // Bayer: dots along its side, 2, 4, 8 or 16; 0 reads as 8

	// Clustered: cells or lines per cm, wide enough for 2 dots and no wider than
	// MaxCell; 0 gives cells of 6 dots at any pitch.
	LinesPerCM float64
	// AngleDegrees is between the rows and the lines or rows of cells,
	// anticlockwise, 0..180. 45 is the least conspicuous for cells.
	AngleDegrees float64
	Spot         Spot      // empty reads as Round
	Pitch        layout.MM // of the raster, 0.01..1 mm; needed with LinesPerCM
}

// Spot is the shape that clustered dots grow in.
type Spot string

// The spots: dots that are round in light tints, a chequerboard at half, and round
// holes in dark ones; or lines.
const (
	Round Spot = "round"
	Line  Spot = "line"
)

// Validate names the first option that is out of range.
func (o Options) Validate() error {
	if o.Kind.entry() == nil {
		return fmt.Errorf("unknown screen %q: choose one of %s", o.Kind, names())
	}
	for _, r := range []struct {
		name string
		dots int
	}{{"shortest run", o.MinDot}, {"shortest gap", o.MinGap}} {
		if r.dots < 0 || r.dots > MaxRun {
			return fmt.Errorf("%s of %d dots is out of range: give 1 to %d, or 0 for any", r.name, r.dots, MaxRun)
		}
	}
	switch o.Matrix {
	case 0, 2, 4, 8, 16:
	default:
		return fmt.Errorf("bayer matrix of %d dots is not known: choose 2, 4, 8 or 16", o.Matrix)
	}
	return o.validateLines()
}

func (o Options) validateLines() error {
	switch o.Spot {
	case "", Round, Line:
	default:
		return fmt.Errorf("unknown spot %q: choose %s or %s", o.Spot, Round, Line)
	}
	if !(o.AngleDegrees >= 0 && o.AngleDegrees <= 180) {
		return fmt.Errorf("screen angle of %g degrees is out of range: give 0 to 180", o.AngleDegrees)
	}
	if !(o.LinesPerCM >= 0) || math.IsInf(o.LinesPerCM, 0) {
		return fmt.Errorf("%g lines per cm is out of range: give a number above 0, or 0 for cells of %d dots", o.LinesPerCM, usualCell)
	}
	if o.Kind != Clustered || o.LinesPerCM == 0 {
		return nil
	}
	const least, most = 0.01, 1.0
	if !(o.Pitch >= least && o.Pitch <= most) {
		return fmt.Errorf("pitch of %g mm is out of range: lines per cm need the raster's pitch, %g to %g mm", float64(o.Pitch), least, most)
	}
	if cell := o.cell(); !(cell >= minCell && cell <= MaxCell) {
		return fmt.Errorf("%g lines per cm at a pitch of %g mm makes cells of %.3g dots: give %.3g to %.3g lines per cm",
			o.LinesPerCM, float64(o.Pitch), cell, 10/float64(o.Pitch)/MaxCell, 10/float64(o.Pitch)/minCell)
	}
	return nil
}

// MaxCell is the widest cell of a clustered screen, in dots.
const MaxCell = 32

const (
	minCell   = 2
	usualCell = 6
)

// cell is the distance between lines, or rows of cells, in dots.
func (o Options) cell() float64 {
	if o.LinesPerCM == 0 {
		return usualCell
	}
	return 10 / (o.LinesPerCM * float64(o.Pitch))
}
