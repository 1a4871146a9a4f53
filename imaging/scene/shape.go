package scene

import "math"

// shape is an outline on the wall. cover is the share of a pixel that lies in it.
type shape struct {
	in    box
	cover func(s spot) float64
}

// fromDistance makes a shape of a function that tells how far outside it a point
// lies, below 0 inside.
func fromDistance(in box, distance func(x, y float64) float64) shape {
	return shape{in, func(s spot) float64 { return clamp01(0.5 - distance(s.x, s.y)/s.px) }}
}

// rectangle covers its pixels exactly.
func rectangle(b box) shape {
	return shape{b, func(s spot) float64 {
		return within(s.x, s.px, b.x0, b.x1) * within(s.y, s.px, b.y0, b.y1)
	}}
}

// rounded is a box with round corners.
func rounded(b box, radius float64) shape {
	cx, cy := b.cx(), b.cy()
	hx, hy := b.w()/2-radius, b.h()/2-radius
	return fromDistance(b, func(x, y float64) float64 {
		dx, dy := math.Abs(x-cx)-hx, math.Abs(y-cy)-hy
		outside := math.Hypot(math.Max(dx, 0), math.Max(dy, 0))
		return outside + math.Min(math.Max(dx, dy), 0) - radius
	})
}

// polygon is a figure without dents; its corners run clockwise as one sees it.
func polygon(corners ...[2]float64) shape {
	in := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	type side struct{ nx, ny, at float64 }
	var sides []side
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		in = in.join(box{p[0], p[1], p[0], p[1]})
		dx, dy := q[0]-p[0], q[1]-p[1]
		length := math.Hypot(dx, dy)
		if length == 0 {
			continue
		}
		nx, ny := -dy/length, dx/length // outwards
		sides = append(sides, side{nx, ny, nx*p[0] + ny*p[1]})
	}
	return fromDistance(in, func(x, y float64) float64 {
		far := math.Inf(-1)
		for _, s := range sides {
			far = math.Max(far, s.nx*x+s.ny*y-s.at)
		}
		return far
	})
}

// ellipse is upright; the distance from it is good near its edge.
func ellipse(b box) shape {
	cx, cy, rx, ry := b.cx(), b.cy(), b.w()/2, b.h()/2
	return fromDistance(b, func(x, y float64) float64 {
		u, v := (x-cx)/rx, (y-cy)/ry
		r := math.Hypot(u, v)
		if r == 0 {
			return -math.Min(rx, ry)
		}
		return r * (r - 1) / math.Hypot(u/rx, v/ry)
	})
}

// stroke is a straight line with round ends that gets thinner from its start.
func stroke(x0, y0, x1, y1, from, to float64) shape {
	in := box{math.Min(x0, x1), math.Min(y0, y1), math.Max(x0, x1), math.Max(y0, y1)}.grown(math.Max(from, to))
	dx, dy := x1-x0, y1-y0
	long := dx*dx + dy*dy
	return fromDistance(in, func(x, y float64) float64 {
		t := clamp01(((x-x0)*dx + (y-y0)*dy) / long)
		return math.Hypot(x-x0-t*dx, y-y0-t*dy) - (from+t*(to-from))/2
	})
}

// leaf is the part that two circles share, its tips at both points.
func leaf(x0, y0, x1, y1, width float64) shape {
	cx, cy := (x0+x1)/2, (y0+y1)/2
	half := math.Hypot(x1-x0, y1-y0) / 2
	ux, uy := (x1-x0)/2/half, (y1-y0)/2/half
	// A circle through the tips that bulges by half the width.
	radius := (half*half + width*width/4) / width
	off := radius - width/2
	return fromDistance(centred(cx, cy, 2*half, 2*half), func(x, y float64) float64 {
		along, across := math.Abs((x-cx)*ux+(y-cy)*uy), math.Abs((y-cy)*ux-(x-cx)*uy)
		if (along-half)*off > across*half {
			return math.Hypot(along-half, across)
		}
		return math.Hypot(across+off, along) - radius
	})
}

// profile is a point of what was turned on a lathe or a wheel.
type profile struct{ y, half float64 }

// lathe is a body of revolution about the upright through x, by its profile from
// the foot up.
func lathe(x float64, points ...profile) shape {
	widest := 0.0
	for _, p := range points {
		widest = math.Max(widest, p.half)
	}
	foot, top := points[0].y, points[len(points)-1].y
	return shape{box{x - widest, foot, x + widest, top}, func(s spot) float64 {
		half := halfAt(points, s.y)
		return within(s.y, s.px, foot, top) * clamp01(0.5+(half-math.Abs(s.x-x))/s.px)
	}}
}

// halfAt is the half width of a profile, smoothly between its points.
func halfAt(points []profile, y float64) float64 {
	last := len(points) - 1
	if y <= points[0].y {
		return points[0].half
	}
	for i := range last {
		a, b := points[i], points[i+1]
		if y > b.y {
			continue
		}
		before, after := points[max(0, i-1)], points[min(last, i+2)]
		// Catmull-Rom, over the points' heights.
		slope := func(p, q profile) float64 { return (q.half - p.half) / math.Max(q.y-p.y, 1e-9) }
		m0, m1 := slope(before, b), slope(a, after)
		h := b.y - a.y
		t := (y - a.y) / h
		t2, t3 := t*t, t*t*t
		return (2*t3-3*t2+1)*a.half + (t3-2*t2+t)*h*m0 + (3*t2-2*t3)*b.half + (t3-t2)*h*m1
	}
	return points[last].half
}
