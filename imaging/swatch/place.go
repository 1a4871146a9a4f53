package swatch

import (
	"fmt"
	"math"

	"undercoat/layout"
)

// The sides of swatches. Under 5 mm the labels go; 10 mm is easy to judge and to
// photograph. Common practice, no source.
const (
	minSide     layout.MM = 3
	leastChosen layout.MM = 5
	mostChosen  layout.MM = 10
	maxSide     layout.MM = 50
)

// quiet is the unburned rim around the marks: they must stand clear of whatever
// lies beside the scrap.
const quiet layout.MM = 2

// grid is where the swatches of a chart lie: cols x rows cells with marks in the
// chart's four corners, to the left and the right of them.
type grid struct {
	cols, rows  int
	side        layout.MM // of a swatch
	gapX, gapY  layout.MM // between neighbours; the labels lie in the gaps above
	mark        layout.MM // side of a mark
	chart       layout.Size
	left, upper layout.MM // outer corner of the first swatch from the chart's centre
}

// gridOf lays n swatches out in so many columns.
func gridOf(n, cols int, side layout.MM) grid {
	const leastMark layout.MM = 6
	g := grid{cols: cols, rows: (n + cols - 1) / cols, side: side}
	g.gapX = max(2.5, 0.3*side)
	g.gapY = max(g.gapX, labelHeight+2*labelClear)
	w := layout.MM(cols)*side + layout.MM(cols+1)*g.gapX
	h := layout.MM(g.rows)*(side+g.gapY) + g.gapX
	// A photograph of a large chart shows its marks small: 3 % of a side are some
	// 20 pixels in a copy reduced to a thousand.
	g.mark = max(leastMark, 0.8*side, 0.03*max(w, h))
	g.mark = layout.MM(math.Ceil(float64(g.mark)*2) / 2)
	g.chart = layout.Size{W: w + 2*g.mark + 2*quiet, H: max(h, 2*g.mark+g.gapX) + 2*quiet}
	g.chart = layout.Size{W: roundUp(g.chart.W), H: roundUp(g.chart.H)}
	g.left = -w/2 + g.gapX
	g.upper = h/2 - g.gapY
	return g
}

// roundUp goes to the next whole millimetre, as a maker measures a scrap.
func roundUp(l layout.MM) layout.MM { return layout.MM(math.Ceil(float64(l) - 1e-9)) }

// marks are the outer corners of the four marks.
func (g grid) marks() [4]layout.Point {
	return layout.Area{Size: layout.Size{W: g.chart.W - 2*quiet, H: g.chart.H - 2*quiet}}.Corners()
}

func (g grid) centre(row, col int) layout.Point {
	return layout.Point{
		X: g.left + layout.MM(col)*(g.side+g.gapX) + g.side/2,
		Y: g.upper - layout.MM(row)*(g.side+g.gapY) - g.side/2,
	}
}

// references are the unburned fields between the swatches of a row and beside the
// outer ones.
func (g grid) references() []layout.Area {
	var all []layout.Area
	for row := range g.rows {
		for col := range g.cols + 1 {
			at := g.centre(row, col)
			at.X -= (g.side + g.gapX) / 2
			all = append(all, layout.Area{Centre: at, Size: layout.Size{W: g.gapX / 2, H: 0.8 * g.side}})
		}
	}
	return all
}

// room is what a chart may take up.
func (r Request) room() layout.Size {
	return layout.Size{
		W: min(r.Scrap.W-2*r.Margin, r.Machine.Bed.W-2*r.Machine.RunUp),
		H: min(r.Scrap.H-2*r.Margin, r.Machine.Bed.H),
	}
}

// fit finds the grid of n swatches that leaves most of the scrap free.
func (r Request) fit(n int) (grid, error) {
	room := r.room()
	if r.Side != 0 {
		if g, ok := bestGrid(n, r.Side, room); ok {
			return g, nil
		}
		return grid{}, r.tooLarge(n, r.Side)
	}
	for side := mostChosen; side >= leastChosen; side -= 0.5 {
		if g, ok := bestGrid(n, side, room); ok {
			return g, nil
		}
	}
	return grid{}, r.tooLarge(n, leastChosen)
}

// bestGrid is the grid of a side that takes up the least share of the room; ok
// tells whether it fits.
func bestGrid(n int, side layout.MM, room layout.Size) (best grid, ok bool) {
	least := math.Inf(1)
	for cols := 1; cols <= n; cols++ {
		g := gridOf(n, cols, side)
		share := max(float64(g.chart.W/max(room.W, 1)), float64(g.chart.H/max(room.H, 1)))
		if share < least {
			best, least = g, share
		}
	}
	const rounding = 1e-9
	return best, room.W > 0 && room.H > 0 && least <= 1+rounding
}

// tooLarge says what the swatches need and what would work.
func (r Request) tooLarge(n int, side layout.MM) error {
	mm := layout.Millimetre
	room := r.room()
	g, _ := bestGrid(n, side, room)
	where := "the scrap less its margin"
	if r.Scrap.W-2*r.Margin > room.W || r.Scrap.H-2*r.Margin > room.H {
		where = "the scrap on this machine's bed"
	}
	has := "nothing"
	if room.W > 0 && room.H > 0 {
		has = mm.FormatSize(room)
	}
	return fmt.Errorf("%d swatches of %s need %s with their marks, and %s has %s: %s",
		n, mm.Format(side), mm.FormatSize(g.chart), where, has, r.whatWouldFit(n, side))
}

func (r Request) whatWouldFit(n int, side layout.MM) string {
	room := r.room()
	advice := "take a larger scrap"
	for fewer := n - 1; fewer >= 1; fewer-- {
		if _, ok := bestGrid(fewer, side, room); ok {
			advice += fmt.Sprintf(", or burn at most %d swatches", fewer)
			break
		}
	}
	for smaller := side - 0.5; smaller >= minSide; smaller -= 0.5 {
		if _, ok := bestGrid(n, smaller, room); ok {
			return advice + ", or make them " + layout.Millimetre.Format(smaller)
		}
	}
	return advice
}

// placeName is the id of a place: rows by letter from the top, columns by number.
func placeName(row, col int) string {
	letters := string(rune('A' + row%26))
	for row /= 26; row > 0; row /= 26 {
		row-- // AA follows Z
		letters = string(rune('A'+row%26)) + letters
	}
	return fmt.Sprintf("%s%d", letters, col+1)
}
