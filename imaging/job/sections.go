package job

import (
	"context"
	"fmt"
	"io"
	"math"
	"math/bits"
	"time"

	"undercoat/imaging/export"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// SectionFile is what the raster of a section is called, the first being 1; of
// several steps each has its own.
func SectionFile(section int) string { return fmt.Sprintf("section-%d.png", section) }

func sectionStepFile(step, section int) string {
	return fmt.Sprintf("step-%d-section-%d.png", step+1, section)
}

// FitIn finds out how a panel is burned, cut evenly where it is cut. Sections no longer
// than longest are asked for with a longest other than 0.
func (d Document) FitIn(longest layout.MM) (layout.Fit, error) {
	pl, err := d.Placement()
	if err != nil {
		return layout.Fit{}, err
	}
	fit, _, err := d.evenFit(pl, longest)
	return fit, err
}

// evenFit also gives the reach that the fit is for.
func (d Document) evenFit(pl layout.Placement, longest layout.MM) (layout.Fit, layout.Reach, error) {
	reach := d.Reach()
	if longest != 0 {
		if !(longest > 0 && longest <= layout.MaxLength) {
			return layout.Fit{}, reach, fmt.Errorf("section length %s is not possible: choose one above 0 and up to 10000 mm", layout.Millimetre.Format(longest))
		}
		reach.Bed.H = min(reach.Bed.H, longest)
	}
	fit, err := reach.Fit(pl, layout.Cuts{})
	if err != nil || fit.How != layout.InSections {
		if err == nil && longest != 0 {
			err = fmt.Errorf("sections of %s: %s; choose a shorter length, or none", layout.Millimetre.Format(longest), fit.Words)
		}
		return fit, reach, err
	}
	if n := len(fit.Sections); n > maxSections {
		return layout.Fit{}, reach, fmt.Errorf("%d sections are too many: choose a length that needs at most %d", n, maxSections)
	}
	return fit, reach, nil
}

// fitOf finds out how a raster is burned, cut where the fewest dots burn; see FitIn.
func (d Document) fitOf(pl layout.Placement, r Raster, longest layout.MM) (layout.Fit, error) {
	even, reach, err := d.evenFit(pl, longest)
	if err != nil || even.How != layout.InSections {
		return even, err
	}
	rows, cols := r.dosesAlong()
	at := func(sums []float64) func(int) float64 { return func(i int) float64 { return sums[i] } }
	return reach.Fit(pl, layout.Cuts{RowCost: at(rows), ColCost: at(cols)})
}

// maxSections is more than anybody moves a panel along.
const maxSections = 40

// dosesAlong is how much light each row and each column gets, in fully burned dots.
func (r Raster) dosesAlong() (rows, cols []float64) {
	w, h := r.Size()
	rows, cols = make([]float64, h), make([]float64, w)
	if r.Shares != nil {
		for y := range h {
			for x, v := range r.Shares.Row(y) {
				rows[y] += float64(v) / math.MaxUint16
				cols[x] += float64(v) / math.MaxUint16
			}
		}
		return rows, cols
	}
	for _, dots := range r.steps() {
		for y := range h {
			eachDot(dots.Row(y), func(x int) {
				rows[y]++
				cols[x]++
			})
		}
	}
	return rows, cols
}

// eachDot calls do for the burned dots of a packed row, from the left.
func eachDot(row []byte, do func(x int)) {
	for i, v := range row {
		for v != 0 {
			lead := bits.LeadingZeros8(v)
			do(8*i + lead)
			v &^= 0x80 >> lead
		}
	}
}

// part is the raster of a section: the same dots, none of them changed.
func (r Raster) part(rows, cols layout.Range) Raster {
	switch {
	case r.Dots != nil:
		return Raster{Dots: cutBits(r.Dots, rows, cols)}
	case r.Shares != nil:
		out := plane.NewGrey16(cols.Len(), rows.Len())
		for y := range out.H {
			copy(out.Row(y), r.Shares.Row(rows.From + y)[cols.From:cols.To])
		}
		return Raster{Shares: out}
	}
	steps := make([]RasterStep, len(r.Steps))
	for i, s := range r.Steps {
		steps[i] = RasterStep{s.Step, cutBits(s.Dots, rows, cols)}
	}
	return Raster{Steps: steps}
}

func cutBits(b *plane.Bits, rows, cols layout.Range) *plane.Bits {
	out := plane.NewBits(cols.Len(), rows.Len())
	shift := cols.From & 7
	for y := range out.H {
		from, to := b.Row(rows.From + y)[cols.From>>3:], out.Row(y)
		for i := range to {
			to[i] = from[i] << shift
			if shift > 0 && i+1 < len(from) {
				to[i] |= from[i+1] >> (8 - shift)
			}
		}
		if past := out.W & 7; past != 0 {
			to[len(to)-1] &= 0xff << (8 - past)
		}
	}
	return out
}

// addSections writes the rasters of all sections and gives their names, a list for
// each section.
func addSections(ctx context.Context, set *export.Set, r Raster, sections []layout.Section) ([][]string, error) {
	names := make([][]string, len(sections))
	for i, s := range sections {
		part := r.part(s.Rows, s.Cols)
		pitch := s.Grid.Pitch
		add := func(name string, write func(io.Writer) error) error {
			names[i] = append(names[i], name)
			return set.Add(name, write)
		}
		if part.Shares != nil {
			if err := add(SectionFile(s.Number), func(w io.Writer) error {
				return export.WriteShares(export.UntilDone(ctx, w), part.Shares, pitch)
			}); err != nil {
				return nil, err
			}
			continue
		}
		for step, dots := range part.steps() {
			name := SectionFile(s.Number)
			if part.Dots == nil {
				name = sectionStepFile(step, s.Number)
			}
			if err := add(name, func(w io.Writer) error {
				return export.WriteRaster(export.UntilDone(ctx, w), dots, pitch)
			}); err != nil {
				return nil, err
			}
		}
	}
	return names, nil
}

// fitTime is how long the machine moves to burn a raster as it fits, all sections,
// steps and passes together. Without a raster every line counts from edge to edge.
func (d Document) fitTime(pl layout.Placement, fit layout.Fit, r *Raster) time.Duration {
	sections := fit.Sections
	if len(sections) == 0 {
		sections = []layout.Section{{
			Placement: pl, Rows: layout.Range{To: pl.Grid.Rows}, Cols: layout.Range{To: pl.Grid.Cols},
		}}
	}
	rasters := []*plane.Bits{nil}
	if r != nil && d.Machine.SkipsBlank {
		rasters = r.steps()
	} else if r != nil {
		rasters = make([]*plane.Bits, max(1, len(r.Steps)))
	}
	var sum time.Duration
	motion := d.Machine.Motion(d.Setting.Speed)
	for _, s := range sections {
		g := s.Grid
		if fit.Turned {
			g.Cols, g.Rows = g.Rows, g.Cols
		}
		for _, dots := range rasters {
			sum += motion.RasterTime(linesOf(dots, s, fit.Turned), g)
		}
	}
	return time.Duration(d.Setting.Passes) * sum
}

// linesOf gives the width of each line of a section, its rows or, turned, its
// columns, from the first to the last burned dot; nil stands for full width.
func linesOf(dots *plane.Bits, s layout.Section, turned bool) func(int) layout.MM {
	if dots == nil {
		return nil
	}
	pitch := s.Grid.Pitch
	part := cutBits(dots, s.Rows, s.Cols)
	if !turned {
		return func(row int) layout.MM {
			first, last, ok := part.Span(row)
			if !ok {
				return 0
			}
			return layout.MM(last-first+1) * pitch
		}
	}
	first, last := make([]int, part.W), make([]int, part.W)
	for y := range part.H {
		eachDot(part.Row(y), func(x int) {
			if last[x] == 0 {
				first[x] = y
			}
			last[x] = y + 1
		})
	}
	return func(line int) layout.MM { return layout.MM(last[line]-first[line]) * pitch }
}
