package job

import (
	"context"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// seamSlips are the misplacements that are tried at every seam: what a careful, a
// usual and a hasty maker gets to with a ruler. Common practice, no source.
var seamSlips = []layout.MM{0.1, 0.2, 0.5}

// The seam is looked at in a band as high as the eye makes out from seamSeen, in
// pieces of seamPiece along it, so that single dots do not count.
const (
	seamSeen  layout.MM = 1000
	seamPiece layout.MM = 1
)

// seams tells for each cut how much a misplacement of the next section would show:
// the two parts are exposed by themselves, laid together as far apart or over one
// another as the slip says, and shown through.
func seams(ctx context.Context, recipe proof.Recipe, r Raster, sections []layout.Section) ([]export.NoteSeam, error) {
	var out []export.NoteSeam
	for i := 1; i < len(sections); i++ {
		before, after := sections[i-1], sections[i]
		s, err := newSeam(ctx, recipe, r, before, after)
		if err != nil {
			return nil, err
		}
		note := export.NoteSeam{Between: [2]int{before.Number, after.Number}, Burned: math.Round(s.burned*1e4) / 1e4}
		if cutsColumns(after) {
			note.At = roundedMM(after.Corners[0].X)
		} else {
			note.At = roundedMM(after.Corners[0].Y)
		}
		for _, off := range seamSlips {
			apart, over := s.shows(off), s.shows(-off)
			note.Looks = append(note.Looks, export.SeamLooks{
				Off: off, Apart: math.Round(apart*100) / 100, Over: math.Round(over*100) / 100, Words: seamWords(apart, over),
			})
		}
		out = append(out, note)
	}
	return out, nil
}

func roundedMM(l layout.MM) layout.MM { return layout.MM(math.Round(float64(l)*1e6)/1e6) + 0 }

// seam is the light on both sides of a cut, in samples of a grid over the dots. Rows
// run across the seam.
type seam struct {
	before, after [][]float32 // shares of the full dose
	cut           int         // the row of samples that the seam lies at
	sample        layout.MM
	full          float32
	table         *coat.LookTable
	burned        float64 // share of the dots beside the seam
}

// seamGrid is the number of samples across a dot: at the usual pitch of 0.08 mm a
// sample is a hundredth of a millimetre.
const seamGrid = burn.MaxGrid

// newSeam exposes the two sides. The machine's lines run along the seam, but across it
// where the panel is moved along them.
func newSeam(ctx context.Context, recipe proof.Recipe, r Raster, before, after layout.Section) (*seam, error) {
	pitch := before.Grid.Pitch
	model, err := recipe.Stack.Compile(recipe.Options)
	if err != nil {
		return nil, err
	}
	most := seamSlips[len(seamSlips)-1]
	far := int(math.Ceil(float64((most+layout.Resolved(seamSeen))/pitch))) + 2 // dots to each side that are looked at
	newExposer := burn.NewExposer
	if recipe.Turned != cutsColumns(after) {
		newExposer = burn.NewTurnedExposer
	}
	exposer, err := newExposer(recipe.Machine, pitch, seamGrid)
	if err != nil {
		return nil, err
	}
	_, reach := exposer.Reach()
	deep := far + reach
	up, down := r.beside(before, after, deep)
	s := &seam{cut: far * seamGrid, sample: pitch / seamGrid, table: model.Table()}
	for _, side := range []struct {
		part Raster
		into *[][]float32
	}{{up, &s.before}, {down, &s.after}} {
		src, at, err := side.part.Burning(recipe)
		if err != nil {
			return nil, err
		}
		s.full = float32(at.FullDose())
		w, _ := src.Size()
		if *side.into, err = exposed(ctx, exposer, src, image.Rect(0, deep-far, w, deep+far)); err != nil {
			return nil, err
		}
	}
	s.burned = burnedBeside(up, down, deep)
	return s, nil
}

// exposed keeps the light on a region.
func exposed(ctx context.Context, e *burn.Exposer, src burn.Source, region image.Rectangle) ([][]float32, error) {
	rows := make([][]float32, region.Dy()*e.Grid())
	err := e.Expose(ctx, src, region, nil, func(row int, shares []float32) error {
		rows[row] = append([]float32(nil), shares...)
		return nil
	})
	return rows, err
}

// beside are two rasters of 2*deep rows along a seam: one with the dots before it,
// the other with those after it.
func (r Raster) beside(before, after layout.Section, deep int) (up, down Raster) {
	side := func(first bool) Raster {
		w := seamLength(after)
		bits := func(dots *plane.Bits) *plane.Bits {
			out := plane.NewBits(w, 2*deep)
			eachBeside(before, after, deep, first, func(x, y int, at image.Point) {
				if dots.At(at.X, at.Y) {
					out.Set(x, y)
				}
			})
			return out
		}
		switch {
		case r.Dots != nil:
			return Raster{Dots: bits(r.Dots)}
		case r.Shares != nil:
			out := plane.NewGrey16(w, 2*deep)
			eachBeside(before, after, deep, first, func(x, y int, at image.Point) {
				out.Row(y)[x] = r.Shares.Row(at.Y)[at.X]
			})
			return Raster{Shares: out}
		}
		steps := make([]RasterStep, len(r.Steps))
		for i, s := range r.Steps {
			steps[i] = RasterStep{s.Step, bits(s.Dots)}
		}
		return Raster{Steps: steps}
	}
	return side(true), side(false)
}

// cutsColumns tells whether a seam is one between columns.
func cutsColumns(after layout.Section) bool { return after.Cols.From > 0 }

// seamLength is how many dots a seam is long.
func seamLength(after layout.Section) int {
	if cutsColumns(after) {
		return after.Grid.Rows
	}
	return after.Grid.Cols
}

// eachBeside goes through the dots within deep of a seam, on its first side or on the
// other: put is given the place along and across the seam, which lies at row deep, and
// the place in the whole raster.
func eachBeside(before, after layout.Section, deep int, first bool, put func(x, y int, at image.Point)) {
	s, columns := after, cutsColumns(after)
	if first {
		s = before
	}
	across := s.Grid.Rows
	if columns {
		across = s.Grid.Cols
	}
	for i := range min(deep, across) {
		y, from := deep+i, i
		if first {
			y, from = deep-1-i, across-1-i
		}
		for x := range seamLength(after) {
			at := image.Pt(s.Cols.From+x, s.Rows.From+from)
			if columns {
				at = image.Pt(s.Cols.From+from, s.Rows.From+x)
			}
			put(x, y, at)
		}
	}
}

// burnedBeside is the share of burned dots in the two rows that meet at a seam.
func burnedBeside(up, down Raster, deep int) float64 {
	w, _ := up.Size()
	n := 0
	for i, r := range []Raster{up, down} {
		row := plane.NewBits(w, 1)
		for _, dots := range r.steps() {
			for j, v := range dots.Row(deep - 1 + i) {
				row.Row(0)[j] |= v
			}
		}
		n += row.Count()
	}
	return float64(n) / float64(2*w)
}

// shows is the mean CIEDE2000 along the seam between the panel with the second part
// off by so much, away from the first above 0, and as it should be. What the picture
// itself has at the seam or as far beside it as the slip goes is no seam: of these
// the nearest counts.
func (s *seam) shows(off layout.MM) float64 {
	shift := float64(off / s.sample)
	half := int(math.Round(math.Abs(shift) / 2))
	is := s.looks(shift, s.cut+int(math.Round(shift/2)))
	var should [][]colour.Linear
	for _, beside := range []int{-half, 0, half} {
		should = append(should, s.looks(0, s.cut+beside))
	}
	sum := 0.0
	for i := range is {
		least := math.Inf(1)
		for _, looks := range should {
			least = min(least, colour.DE2000(looks[i].Lab(), is[i].Lab()))
		}
		sum += least
	}
	return sum / float64(len(is))
}

// looks are the mean looks of the pieces of a band about a row of samples, when the
// second part is moved by so many.
func (s *seam) looks(shift float64, middle int) []colour.Linear {
	length := len(s.before[0])
	piece := max(1, int(math.Round(float64(seamPiece/s.sample))))
	half := max(1, int(math.Round(float64(layout.Resolved(seamSeen)/s.sample)/2)))
	sums := make([]colour.Linear, (length+piece-1)/piece)
	light, looks := make([]float32, length), make([]coat.Light, length)
	for y := middle - half; y < middle+half; y++ {
		s.laid(y, shift, light)
		s.table.Looks(light, s.full, looks)
		for x, l := range looks {
			sums[x/piece] = sums[x/piece].Add(colour.Linear{R: float64(l.R), G: float64(l.G), B: float64(l.B)})
		}
	}
	for i := range sums {
		wide := min(piece, length-i*piece)
		sums[i] = sums[i].Scale(1 / float64(2*half*wide))
	}
	return sums
}

// laid is the light on a row of samples when the second part is moved: between two of
// its rows it runs straight.
func (s *seam) laid(y int, shift float64, into []float32) {
	at := float64(y) - shift
	low := int(math.Floor(at))
	t := float32(at - float64(low))
	row := func(rows [][]float32, i int) []float32 {
		if i < 0 || i >= len(rows) {
			return nil
		}
		return rows[i]
	}
	clear(into)
	add := func(from []float32, share float32) {
		for x, v := range from {
			into[x] += share * v
		}
	}
	add(row(s.before, y), 1)
	add(row(s.after, low), 1-t)
	add(row(s.after, low+1), t)
}

// What a difference along a line looks like, in CIEDE2000. Common practice, no source:
// a difference of one is about the least that is seen side by side.
const (
	seamUnseen = 1.0
	seamFaint  = 3.0
	seamPlain  = 6.0
)

// seamWords says how a misplacement shows.
func seamWords(apart, over float64) string {
	return fmt.Sprintf("left apart it %s (%.1f), laid over it %s (%.1f)", seamWord(apart), apart, seamWord(over), over)
}

func seamWord(de float64) string {
	switch {
	case de < seamUnseen:
		return "does not show"
	case de < seamFaint:
		return "shows faintly to who looks for it"
	case de < seamPlain:
		return "shows as a fine line"
	}
	return "shows plainly as a line"
}
