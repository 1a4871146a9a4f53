package widgets

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"undercoat/layout"
	house "undercoat/ui/theme"
)

// lineSlack is how far beside a line of lettering it is still taken hold of.
const lineSlack = 4 // pixels

// lineAt is the line of lettering at a place in the viewport, the uppermost one where
// several meet; -1 where there is none.
func (e *Easel) lineAt(pos fyne.Position) int {
	for i, frame := range slices.Backward(e.lines) {
		if e.inFrame(frame, pos) {
			return i
		}
	}
	return -1
}

// inFrame tells whether a place lies in a turned frame: along its sides, from its
// upper left corner.
func (e *Easel) inFrame(frame [4]layout.Point, pos fyne.Position) bool {
	x0, y0 := e.view.at(frame[0])
	along := func(corner layout.Point) bool {
		x, y := e.view.at(corner)
		dx, dy := float64(x-x0), float64(y-y0)
		long := math.Hypot(dx, dy)
		if long == 0 {
			return false
		}
		off := (float64(pos.X-x0)*dx + float64(pos.Y-y0)*dy) / long
		return off >= -lineSlack && off <= long+lineSlack
	}
	return along(frame[1]) && along(frame[3])
}

// roundFrame is where a frame is drawn: a little outside, so that the letters stay
// in sight.
func (e *Easel) roundFrame(frame [4]layout.Point) (out [4]fyne.Position) {
	for k := range frame {
		x, y := e.view.at(frame[k])
		out[k] = fyne.NewPos(x, y)
		for _, next := range []int{(k + 1) % 4, (k + 3) % 4} {
			nx, ny := e.view.at(frame[next])
			if long := float32(math.Hypot(float64(x-nx), float64(y-ny))); long > 0 {
				out[k].X += (x - nx) / long * lineSlack
				out[k].Y += (y - ny) / long * lineSlack
			}
		}
	}
	return out
}

func (e *Easel) pickLine(i int) {
	if e.line == i {
		return
	}
	e.line = i
	if e.OnLinePicked != nil {
		e.OnLinePicked(i)
	}
}

// moveLine moves the line's frame at once, ahead of the letters.
func (e *Easel) moveLine(dx, dy layout.MM) {
	if e.line < 0 || e.line >= len(e.lines) {
		return
	}
	lines := slices.Clone(e.lines)
	for i := range lines[e.line] {
		lines[e.line][i].X += dx
		lines[e.line][i].Y += dy
	}
	e.lines = lines
	e.Refresh()
	if e.OnLineMoved != nil {
		e.OnLineMoved(e.line, dx, dy)
	}
}

// leastLevel is how long a line must be to say anything.
const leastLevel = 16 // pixels

// endLevel takes the line that was drawn. One that is too short was a slip.
func (e *Easel) endLevel() {
	x0, y0 := e.view.at(e.level[0])
	x1, y1 := e.view.at(e.level[1])
	if math.Hypot(float64(x1-x0), float64(y1-y0)) >= leastLevel && e.OnLevelDrawn != nil {
		e.OnLevelDrawn(e.level[0], e.level[1])
	}
}

func (e *Easel) dropLevel() {
	if e.mode == Level && e.OnLevelDropped != nil {
		e.grip = grip{}
		e.OnLevelDropped()
	}
}

// drawLines draws the frames of the lettering.
func (r *easelRenderer) drawLines() {
	e, b := r.easel, r.handles
	for i, frame := range e.lines {
		ink, width := b.colour(house.Line), b.hair()
		if i == e.line {
			width = 2
			if e.focused && e.selected == letterLine {
				ink = b.colour(theme.ColorNamePrimary)
			}
		}
		corners := e.roundFrame(frame)
		for k, from := range corners {
			x0, y0 := from.X, from.Y
			x1, y1 := corners[(k+1)%4].X, corners[(k+1)%4].Y
			b.line(x0, y0, x1, y1, width+2, b.colour(house.LineShade))
			b.line(x0, y0, x1, y1, width, ink)
		}
	}
}

// drawLevel draws the line along something level, with the angle that it stands for.
func (r *easelRenderer) drawLevel() {
	e, b := r.easel, r.handles
	x0, y0 := e.view.at(e.level[0])
	x1, y1 := e.view.at(e.level[1])
	b.line(x0, y0, x1, y1, 4, b.colour(house.LineShade))
	b.line(x0, y0, x1, y1, 2, b.colour(house.Line))
	angle, err := layout.HorizonAngle(
		layout.PicturePoint{X: float64(x0), Y: float64(y0)},
		layout.PicturePoint{X: float64(x1), Y: float64(y1)})
	if err != nil {
		return
	}
	size := b.size(theme.SizeNameCaptionText)
	text := fmt.Sprintf("%.1f°", angle)
	m := measure(text, size, fyne.TextStyle{})
	const padX, padY, gap = 6, 2, 12
	b.chip(text, x1+gap, y1-m.Height/2-padY, m.Width+2*padX, m.Height+2*padY, size)
}
