package layout

import "fmt"

// Side is one of a panel's four.
type Side string

// The sides of a panel, as one looks at its picture.
const (
	LeftSide   Side = "left"
	RightSide  Side = "right"
	TopSide    Side = "top"
	BottomSide Side = "bottom"
)

// Range is a run of rows or columns: From is in it, To is not.
type Range struct{ From, To int }

// Len is how many there are.
func (r Range) Len() int { return r.To - r.From }

// Section is a part of a panel that is burned in one go.
type Section struct {
	// Placement is where the section's own raster goes: its grid, centre and corners
	// from the centre of the whole panel, and what is left beside it to the panel's
	// sides.
	Placement
	Number int // from 1, in the order of burning
	Rows   Range
	Cols   Range
	Marks  [2]Mark
	Move   Move // from the section before; the first has none
}

// Mark is a pencil mark on the rim of a panel, level with a section's centre. The
// line between a section's two marks runs through its centre, so that the panel
// can be set square and in its place under the pointer light.
type Mark struct {
	Side       Side
	At         Point // from the panel's centre
	FromCentre MM    // along the rim from its middle: up or to the right above 0
	FromEnd    MM    // along the rim from its top or left end
}

// String says where to draw the mark.
func (m Mark) String() string {
	end, plus, minus := TopSide, "above", "below"
	if m.Side == TopSide || m.Side == BottomSide {
		end, plus, minus = LeftSide, "right of", "left of"
	}
	where, by := plus, m.FromCentre
	if by < 0 {
		where, by = minus, -by
	}
	return fmt.Sprintf("on the %s side, %s %s the middle, %s from the %s end",
		m.Side, Millimetre.Format(by), where, Millimetre.Format(m.FromEnd), end)
}

// Move is how the panel is moved along between two sections.
type Move struct {
	By   MM
	Lead Side // the end that goes first
}

// String says how to move the panel; empty where it stays.
func (m Move) String() string {
	if m.By == 0 {
		return ""
	}
	return fmt.Sprintf("move the panel %s, %s end first", Millimetre.Format(m.By), m.Lead)
}

// sections cuts a raster into count sections of at most longest rows or columns.
func (w way) sections(pl Placement, count, longest int, c Cuts) ([]Section, error) {
	cost := c.RowCost
	if w.cutsColumns() {
		cost = c.ColCost
	}
	at, err := c.choose(w.cut(pl.Grid), count, longest, pl.Grid.Pitch, cost)
	if err != nil {
		return nil, err
	}
	return w.join(pl, at), nil
}

// join makes the sections between the cuts, from the top down or from left to
// right.
func (w way) join(pl Placement, cuts []int) []Section {
	ends := append(append([]int(nil), cuts...), w.cut(pl.Grid))
	sections := make([]Section, len(ends))
	from := 0
	for i, to := range ends {
		rows, cols := Range{0, pl.Grid.Rows}, Range{0, pl.Grid.Cols}
		if w.cutsColumns() {
			cols = Range{from, to}
		} else {
			rows = Range{from, to}
		}
		part := pl.Part(rows, cols)
		sections[i] = Section{Placement: part, Number: i + 1, Rows: rows, Cols: cols, Marks: w.marks(part)}
		if i > 0 {
			sections[i].Move = w.move(sections[i-1].Centre, part.Centre)
		}
		from = to
	}
	return sections
}

// Part is the placement of some rows and columns of a raster, on the same panel.
// The ranges must lie in the raster.
func (p Placement) Part(rows, cols Range) Placement {
	pitch, size := p.Grid.Pitch, p.Panel.Size
	left, top := p.Corners[0].X, p.Corners[0].Y
	part := p
	part.Grid = Grid{Cols: cols.Len(), Rows: rows.Len(), Pitch: pitch}
	part.Area = Area{
		Centre: Point{
			X: left + MM(cols.From+cols.To)*pitch/2,
			Y: top - MM(rows.From+rows.To)*pitch/2,
		},
		Size: part.Grid.Size(),
	}
	part.Centre, part.Corners = part.Area.Centre, part.Area.Corners()
	part.Left = Border{
		Left: size.W/2 + part.Corners[0].X, Right: size.W/2 - part.Corners[2].X,
		Top: size.H/2 - part.Corners[0].Y, Bottom: size.H/2 + part.Corners[2].Y,
	}
	return part
}

func (w way) marks(part Placement) [2]Mark {
	half, c := Size{part.Panel.Size.W / 2, part.Panel.Size.H / 2}, part.Centre
	if w.cutsColumns() {
		mark := func(side Side, y MM) Mark { return Mark{side, Point{c.X, y}, c.X, half.W + c.X} }
		return [2]Mark{mark(TopSide, half.H), mark(BottomSide, -half.H)}
	}
	mark := func(side Side, x MM) Mark { return Mark{side, Point{x, c.Y}, c.Y, half.H - c.Y} }
	return [2]Mark{mark(LeftSide, -half.W), mark(RightSide, half.W)}
}

// move brings the next section's centre to where the last one's lay: the panel
// goes the other way than the sections do.
func (w way) move(last, next Point) Move {
	if w.cutsColumns() {
		return Move{By: next.X - last.X, Lead: LeftSide}
	}
	return Move{By: last.Y - next.Y, Lead: TopSide}
}
