package lettering

import (
	"fmt"
	"math"

	"undercoat/layout"
)

// Thin is the thinnest of something in a line, and where it is.
type Thin struct {
	MM     layout.MM // 0: there is none
	Letter string
}

func (t *Thin) take(mm layout.MM, letter string) {
	if mm > 0 && (t.MM == 0 || mm < t.MM) {
		*t = Thin{mm, letter}
	}
}

// below tells whether there is something thinner than what holds, by more than
// can be seen in the numbers shown.
func (t Thin) below(least layout.MM) bool { return t.MM > 0 && t.MM < least-0.005 }

// ThinnestStroke is the thinnest stroke of a line's letters. A thin place counts
// once it is a tenth of the cap height long, so that a pointed tip does not.
func ThinnestStroke(p Placed) Thin {
	var t Thin
	for _, g := range p.Glyphs {
		t.take(g.shape.thin().ink*p.Line.CapHeight, g.Letter)
	}
	return t
}

// ThinnestGap is the thinnest gap within a line's letters: a counter, or what
// lies between two arms. It is judged as [ThinnestStroke] is.
func ThinnestGap(p Placed) Thin {
	var t Thin
	for _, g := range p.Glyphs {
		t.take(g.shape.thin().gap*p.Line.CapHeight, g.Letter)
	}
	return t
}

// NearestLetters is the least distance between two neighbouring letters of a
// line. Letters that touch, as those of a script do, have none.
func NearestLetters(p Placed) Thin {
	var t Thin
	tolerance := p.Line.CapHeight / 500
	var before [][2]layout.Point
	var name string
	for _, g := range p.Glyphs {
		edges := edgesOf(g.Path, tolerance)
		if len(edges) > 0 && len(before) > 0 {
			if d := distance(before, edges); d > tolerance {
				t.take(d, name+g.Letter)
			}
		}
		before, name = edges, g.Letter
	}
	return t
}

func edgesOf(path Path, tolerance layout.MM) [][2]layout.Point {
	var edges [][2]layout.Point
	path.edges(tolerance, func(a, b layout.Point) { edges = append(edges, [2]layout.Point{a, b}) })
	return edges
}

// maxPairs bounds the comparisons of two letters; beyond, letters are too
// intricate to be told apart.
const maxPairs = 4_000_000

// distance is the least distance between two outlines; 0 where they touch.
func distance(one, other [][2]layout.Point) layout.MM {
	if len(one)*len(other) > maxPairs {
		return 0
	}
	least := layout.MM(math.Inf(1)) // squared
	for _, a := range one {
		for _, b := range other {
			if crossing := cross(a[0], a[1], b[0])*cross(a[0], a[1], b[1]) <= 0 && cross(b[0], b[1], a[0])*cross(b[0], b[1], a[1]) <= 0; crossing {
				if overlap(a, b) {
					return 0
				}
			}
			_, d1 := foot(a, b[0])
			_, d2 := foot(b, a[0])
			least = min(least, d1, d2)
		}
	}
	return layout.MM(math.Sqrt(float64(least)))
}

// cross is twice the signed area of a triangle.
func cross(a, b, c layout.Point) layout.MM { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// overlap tells whether the boxes of two edges touch; edges in one line cross only then.
func overlap(a, b [2]layout.Point) bool {
	return max(a[0].X, a[1].X) >= min(b[0].X, b[1].X) && max(b[0].X, b[1].X) >= min(a[0].X, a[1].X) &&
		max(a[0].Y, a[1].Y) >= min(b[0].Y, b[1].Y) && max(b[0].Y, b[1].Y) >= min(a[0].Y, a[1].Y)
}

// Least is the thinnest that holds on a panel.
type Least struct {
	Burned layout.MM // a burned stroke between paint that is left
	Kept   layout.MM // a stroke of paint left between burned dots
}

// LeastStroke works out what holds from the beam's width (the greater of along
// and across) and the pitch. A burned stroke takes two lines of dots, so that it
// does not come and go with where the dots happen to lie, and is no thinner than
// the beam. Paint that is left loses to the beam what it reaches past a dot's own
// cell on either side, half the beam less half the pitch, and needs two lines of
// dots besides.
//
// Common practice, no source.
func LeastStroke(beam, pitch layout.MM) Least {
	return Least{Burned: max(2*pitch, beam), Kept: 2*pitch + max(0, beam-pitch)}
}

// CheckStroke says what in a line is too thin for the beam and the pitch, and
// what to do, one sentence each; nothing if all of it will hold.
func CheckStroke(p Placed, beam, pitch layout.MM) []string {
	least := LeastStroke(beam, pitch)
	ink, gap := least.Burned, least.Kept
	inkGoes, gapGoes, narrower := "will not hold", "will close", ""
	if !p.Line.Burn {
		// The margin adds to the letters on every side and takes from the gaps.
		ink, gap = max(0, least.Kept-2*p.Line.Margin), least.Burned+2*p.Line.Margin
		inkGoes, gapGoes = "will burn away", "will not burn through"
		if p.Line.Margin > 0 {
			narrower = " or make the margin smaller"
		}
	}
	var faults []string
	if t := ThinnestStroke(p); t.below(ink) {
		faults = append(faults, fmt.Sprintf("strokes of %s (in %q) %s; %s is the least here: make the letters %s high or choose a bolder font",
			show(t.MM), t.Letter, inkGoes, show(ink), p.atLeast(ink/t.MM)))
	}
	if t := ThinnestGap(p); t.below(gap) {
		faults = append(faults, fmt.Sprintf("gaps of %s (in %q) %s; %s is the least here: make the letters %s high%s or choose a more open font",
			show(t.MM), t.Letter, gapGoes, show(gap), p.atLeast(gap/t.MM), narrower))
	}
	if t := NearestLetters(p); t.below(gap) {
		faults = append(faults, fmt.Sprintf("letters %s apart (%q) will run together; %s is the least here: add %s of letter spacing%s",
			show(t.MM), t.Letter, show(gap), show(roundedUp(gap-t.MM, 0.01)), narrower))
	}
	return faults
}

// atLeast is the cap height that makes everything larger by a factor, to a tenth
// of a millimetre.
func (p Placed) atLeast(factor layout.MM) string {
	return show(roundedUp(p.Line.CapHeight*factor, 0.1))
}

func roundedUp(l, step layout.MM) layout.MM {
	return layout.MM(math.Ceil(float64(l/step)-1e-9)) * step
}

// CheckPlace says where a line reaches past the panel or past the raster, which
// is the picture area in whole dots, one sentence each; nothing if it lies inside.
func CheckPlace(p Placed, pl layout.Placement) []string {
	raster := layout.Area{Centre: pl.Centre, Size: pl.Grid.Size()}
	panel := layout.Area{Size: pl.Panel.Size}
	var faults []string
	for _, side := range sides {
		switch past, off := side.past(p.Bounds, raster), side.past(p.Bounds, panel); {
		case past <= pl.Grid.Pitch/2: // dots take it up
		case off > pl.Grid.Pitch/2:
			faults = append(faults, fmt.Sprintf("%q reaches %s past the panel's %s: move it %s or make it smaller", shortened(p.Line.Text), show(off), side.name, side.back))
		default:
			faults = append(faults, fmt.Sprintf("%q reaches %s past the picture area's %s and is cut off there: move it %s, make it smaller or make the border narrower", shortened(p.Line.Text), show(past), side.name, side.back))
		}
	}
	return faults
}

// sides are the four sides of an area, and how far past one of them another area reaches.
var sides = [4]struct {
	name, back string
	past       func(ink, area layout.Area) layout.MM
}{
	{"left", "right", func(ink, area layout.Area) layout.MM { return area.Corners()[0].X - ink.Corners()[0].X }},
	{"right", "left", func(ink, area layout.Area) layout.MM { return ink.Corners()[1].X - area.Corners()[1].X }},
	{"top", "down", func(ink, area layout.Area) layout.MM { return ink.Corners()[0].Y - area.Corners()[0].Y }},
	{"bottom", "up", func(ink, area layout.Area) layout.MM { return area.Corners()[2].Y - ink.Corners()[2].Y }},
}
