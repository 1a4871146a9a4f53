package sheet

import "undercoat/imaging/colour"

// flow fills columns from the top down, the left one first, and goes on to a new page
// when the last is full.
type flow struct {
	*paper
	cols   int
	col    int
	top, y float64
	ends   float64 // how far down the fullest column of the page goes
}

// gutter parts two columns, in mm.
const gutter = 9.0

// footRoom is kept free for the foot of the page.
const footRoom = 14.0

func (f *flow) wide() float64 {
	return (f.w - 2*margin - gutter*float64(f.cols-1)) / float64(f.cols)
}
func (f *flow) x() float64      { return margin + float64(f.col)*(f.wide()+gutter) }
func (f *flow) bottom() float64 { return f.h - footRoom }

// room makes sure of so much height in the column.
func (f *flow) room(h float64) {
	if f.y+h <= f.bottom() {
		return
	}
	f.nextColumn()
}

// nextColumn goes on at the top of the next column.
func (f *flow) nextColumn() {
	f.ends = max(f.ends, f.y)
	if f.col++; f.col >= f.cols {
		f.newPage()
	}
	f.y = f.top
}

func (f *flow) newPage() {
	f.pdf.AddPage()
	f.col, f.top, f.y, f.ends = 0, margin, margin, margin
}

// fullWidth ends the columns: what follows is as wide as the page, below all of them,
// with so much height at the least.
func (f *flow) fullWidth(atLeast float64) {
	y := max(f.ends, f.y)
	if f.bottom()-y < atLeast {
		f.newPage()
		y = f.top
	}
	f.cols, f.col, f.y = 1, 0, y
}

// head is a heading with room for a little of what follows.
func (f *flow) head(text string, atLeast float64) {
	if f.y > f.top {
		f.y += 3.2
	}
	f.room(7 + atLeast)
	f.at(heading, f.x(), f.y+3.4, text)
	f.line(f.x(), f.y+5, f.x()+f.wide(), f.y+5, 0.3, ink)
	f.y += 6.6
}

// labelWide is the column of labels beside values, in mm.
const labelWide = 22.0

// item is a labelled value; one without a value is left out.
func (f *flow) item(name, value string) { f.itemIn(plain, name, value) }

func (f *flow) itemIn(how face, name, value string) {
	if value == "" {
		return
	}
	lines := f.wrapped(how, value, f.wide()-labelWide)
	high := how.lineHeight()
	f.room(high * float64(min(len(lines), 3)))
	for i, text := range lines {
		f.room(high)
		if i == 0 {
			f.at(label, f.x(), f.y+high*0.78, name)
		}
		f.at(how, f.x()+labelWide, f.y+high*0.78, text)
		f.y += high
	}
	f.y += 0.4
}

// text is a paragraph.
func (f *flow) text(how face, text string) { f.marked(how, "", text) }

// point is a paragraph behind a mark.
func (f *flow) point(how face, text string) { f.marked(how, "\u2013", text) }

func (f *flow) marked(how face, mark, text string) {
	indent := 0.0
	if mark != "" {
		indent = how.size * ptMM * 1.1
	}
	high := how.lineHeight()
	lines := f.wrapped(how, text, f.wide()-indent)
	f.room(high * float64(min(len(lines), 4)))
	for i, line := range lines {
		f.room(high)
		if i == 0 && mark != "" {
			f.at(how, f.x(), f.y+high*0.78, mark)
		}
		f.at(how, f.x()+indent, f.y+high*0.78, line)
		f.y += high
	}
	f.y += 0.5
}

// cell is a place in a row of a table, as a share of the column's width; end sets text
// flush with its right side.
type cell struct {
	from, to float64
	end      bool
}

// row is one line of a table.
func (f *flow) row(how face, cells []cell, texts ...string) {
	high := how.lineHeight()
	f.room(high)
	for i, c := range cells {
		if i >= len(texts) {
			break
		}
		x0, x1 := f.x()+c.from*f.wide(), f.x()+c.to*f.wide()
		text := f.shortened(how, texts[i], x1-x0)
		if c.end {
			f.ended(how, x1, f.y+high*0.78, text)
		} else {
			f.at(how, x0, f.y+high*0.78, text)
		}
	}
	f.y += high
}

// swatch is a dab of paint at the left of the line that follows.
func (f *flow) swatch(c colour.Stored) {
	high := plain.lineHeight()
	f.room(high)
	f.box(f.x(), f.y+0.3, 5, high-0.9, c, 0.15, grey)
}

// ruledApart is the distance of lines to write on, in mm.
const ruledApart = 7.5

// ruled are lines to write on.
func (f *flow) ruled(count int) {
	for range count {
		f.room(ruledApart)
		f.y += ruledApart
		f.line(f.x(), f.y, f.x()+f.wide(), f.y, 0.15, faint)
	}
}
