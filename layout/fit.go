package layout

import (
	"fmt"
	"math"
)

// How is how a panel comes to be burned on a machine.
type How string

// The ways a panel fits. Turned is by a quarter clockwise, the panel's top to
// the right, and its raster with it.
const (
	Upright    How = "upright"
	Turned     How = "turned"
	InSections How = "in sections"
	NotAtAll   How = "not at all"
)

// Fit says how a panel fits a machine.
type Fit struct {
	How    How
	Turned bool // also for sections: the panel lies a quarter turned, clockwise
	// Sections cover the raster without gap or overlap, in the order of burning:
	// one for a panel that fits whole, none for one that does not fit.
	Sections []Section
	// Instead is a border with which a panel that does not fit would, if there is one.
	Instead *Border
	Words   string // all this in one sentence
}

// Fit finds out how a placed raster can be burned: in one go, upright or turned
// by a quarter, or in as few sections as possible while the panel is moved along.
func (r Reach) Fit(pl Placement, c Cuts) (Fit, error) {
	if err := r.Validate(); err != nil {
		return Fit{}, err
	}
	if pl.Grid.Cols < 1 || pl.Grid.Rows < 1 || validatePitch(pl.Grid.Pitch) != nil {
		return Fit{}, fmt.Errorf("raster of %d x %d dots at %g mm pitch is empty: place one on a panel first",
			pl.Grid.Cols, pl.Grid.Rows, float64(pl.Grid.Pitch))
	}
	if err := c.validate(); err != nil {
		return Fit{}, err
	}
	size := pl.Grid.Size()
	for _, turned := range []bool{false, true} {
		if r.holds(way{turned: turned}.onBed(size)) {
			return fitsWhole(pl, turned), nil
		}
	}
	w, count, ok := r.fewest(pl.Grid)
	if !ok {
		return r.doesNotFit(pl), nil
	}
	sections, err := w.sections(pl, count, w.longest(r, pl.Grid.Pitch), c)
	if err != nil {
		return Fit{}, err
	}
	return Fit{How: InSections, Turned: w.turned, Sections: sections, Words: r.sectionWords(w, sections)}, nil
}

func fitsWhole(pl Placement, turned bool) Fit {
	w := way{turned: turned}
	fit := Fit{How: Upright, Sections: w.join(pl, nil), Words: "the panel fits as it is"}
	if turned {
		fit.How, fit.Turned = Turned, true
		fit.Words = "the panel fits turned by a quarter clockwise, its top to the right, and its raster with it"
	}
	return fit
}

// fewest is the way with the fewest sections among those whose lines stay whole,
// or else among the others.
func (r Reach) fewest(g Grid) (best way, count int, ok bool) {
	for _, w := range r.ways() {
		longest := w.longest(r, g.Pitch)
		if w.excess(r, g.Size()) > reachSlack || longest < 1 {
			continue
		}
		if ok && w.sideways && !best.sideways {
			break
		}
		if n := (w.cut(g) + longest - 1) / longest; !ok || n < count {
			best, count, ok = w, n, true
		}
	}
	return best, count, ok
}

func (r Reach) sectionWords(w way, sections []Section) string {
	lies := ""
	if w.turned {
		lies = "turned by a quarter clockwise, "
	}
	return fmt.Sprintf("the panel fits in %d sections, %sand is moved along %s end first between them",
		len(sections), lies, sections[len(sections)-1].Move.Lead)
}

func (r Reach) doesNotFit(pl Placement) Fit {
	size := pl.Grid.Size()
	lines := Millimetre.Format(size.W)
	if other := Millimetre.Format(size.H); other != lines {
		lines = Millimetre.number(size.W) + " or " + other
	}
	runUp := ""
	if r.RunUp > 0 {
		runUp = fmt.Sprintf(" with %s run-up at both ends", Millimetre.Format(r.RunUp))
	}
	fit := Fit{How: NotAtAll}
	fit.Words = fmt.Sprintf("a bed of %s holds no line of %s either way%s: ", Millimetre.FormatSize(r.Bed), lines, runUp)
	if border, inSections, ok := r.borderThatFits(pl); ok {
		fit.Instead = &border
		fit.Words += fmt.Sprintf("a border of %s would still fit", borderWords(border))
		if inSections {
			fit.Words += " in sections"
		}
		fit.Words += ", or "
	}
	if _, _, ok := (Reach{r.Bed, r.RunUp, true}).fewest(pl.Grid); ok {
		fit.Words += "move it along its lines as well if the frame lets a panel through sideways, or "
	}
	fit.Words += "choose a smaller panel"
	return fit
}

func borderWords(b Border) string {
	show := Millimetre.Format
	return fmt.Sprintf("%s left and %s right, %s top and %s bottom", show(b.Left), show(b.Right), show(b.Top), show(b.Bottom))
}

// borderThatFits widens one pair of sides, each by the same, by as little as will
// do.
func (r Reach) borderThatFits(pl Placement) (best Border, inSections, ok bool) {
	least := MM(math.Inf(1))
	for _, w := range r.ways() {
		border, extra, ok := r.widened(pl, w)
		if !ok || extra >= least {
			continue
		}
		again, err := Place(pl.Panel, border, pl.Grid.Pitch)
		if err != nil {
			continue
		}
		size := again.Grid.Size()
		whole := r.holds(size) || r.holds(way{turned: true}.onBed(size))
		if _, _, fits := r.fewest(again.Grid); !whole && !fits {
			continue
		}
		best, least, inSections = border, extra, !whole
	}
	return best, inSections, !math.IsInf(float64(least), 1)
}

// widened is the border with which a panel just fits one way, in tenths of a
// millimetre. One pitch is added because the raster comes in whole dots.
func (r Reach) widened(pl Placement, w way) (b Border, extra MM, ok bool) {
	excess := w.excess(r, pl.Grid.Size())
	up := func(v MM) MM { return MM(math.Ceil(float64(v)*10-1e-6) / 10) }
	extra = max(0, excess+pl.Grid.Pitch) / 2
	b = pl.Border
	if w.cutsColumns() {
		b.Top, b.Bottom = up(b.Top+extra), up(b.Bottom+extra)
	} else {
		b.Left, b.Right = up(b.Left+extra), up(b.Right+extra)
	}
	return b, extra, b.Validate() == nil
}
