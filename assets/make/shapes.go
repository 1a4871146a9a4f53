package main

import "math"

// point is a place in units of the full-size picture, y down.
type point struct{ x, y float64 }

type box struct{ x0, y0, x1, y1 float64 }

func bounds(outlines [][]point) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, outline := range outlines {
		for _, p := range outline {
			b.x0, b.y0 = math.Min(b.x0, p.x), math.Min(b.y0, p.y)
			b.x1, b.y1 = math.Max(b.x1, p.x), math.Max(b.y1, p.y)
		}
	}
	return b
}

func rect(x0, y0, x1, y1 float64) []point {
	return []point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

func ellipse(cx, cy, rx, ry float64) []point {
	const n = 72
	outline := make([]point, n)
	for i := range outline {
		a := 2 * math.Pi * float64(i) / n
		outline[i] = point{cx + rx*math.Cos(a), cy + ry*math.Sin(a)}
	}
	return outline
}

// curve goes smoothly through all the given points (Catmull-Rom).
func curve(through ...point) []point {
	const pieces = 16
	at := func(i int) point { return through[int(clamp(float64(i), 0, float64(len(through)-1)))] }
	var line []point
	for i := range len(through) - 1 {
		a, b, c, d := at(i-1), at(i), at(i+1), at(i+2)
		for j := range pieces {
			t := float64(j) / pieces
			line = append(line, point{spline(a.x, b.x, c.x, d.x, t), spline(a.y, b.y, c.y, d.y, t)})
		}
	}
	return append(line, through[len(through)-1])
}

func spline(a, b, c, d, t float64) float64 {
	return b + t*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))/2
}

// sag is a rope from a to b that hangs down by depth in the middle.
func sag(a, b point, depth float64) []point {
	const n = 24
	line := make([]point, n+1)
	for i := range line {
		t := float64(i) / n
		line[i] = point{lerp(a.x, b.x, t), lerp(a.y, b.y, t) + 4*depth*t*(1-t)}
	}
	return line
}

// stroke is the outline of a line that is w0 wide at its start and w1 at its end.
func stroke(line []point, w0, w1 float64) [][]point {
	var outlines [][]point
	width := func(i int) float64 { return lerp(w0, w1, float64(i)/float64(max(1, len(line)-1))) / 2 }
	for i := range len(line) - 1 {
		a, b := line[i], line[i+1]
		length := math.Hypot(b.x-a.x, b.y-a.y)
		if length == 0 {
			continue
		}
		nx, ny := -(b.y-a.y)/length, (b.x-a.x)/length
		p, q := width(i), width(i+1)
		outlines = append(outlines, []point{
			{a.x - nx*p, a.y - ny*p}, {b.x - nx*q, b.y - ny*q},
			{b.x + nx*q, b.y + ny*q}, {a.x + nx*p, a.y + ny*p},
		})
		if i > 0 && p > 1.5 { // round the joint of a broad line
			outlines = append(outlines, ellipse(a.x, a.y, p, p))
		}
	}
	return outlines
}

// line draws a line of even width.
func (c *canvas) line(p paint, width float64, through ...point) {
	c.fill(p, stroke(through, width, width)...)
}

// taper draws a line that changes its width.
func (c *canvas) taper(p paint, w0, w1 float64, through ...point) {
	c.fill(p, stroke(through, w0, w1)...)
}
