package main

import (
	"math"

	"golang.org/x/image/font/gofont/gosmallcaps"

	"undercoat/imaging/colour"
)

// The tower's measures.
const (
	towerX    = 2010.0
	towerBase = 2232.0
	towerTop  = 968.0 // under the gallery
	baseHalf  = 196.0
	topHalf   = 118.0
	lampY     = 760.0
	brickSeed = noise(401)
)

// towerHalf is half the tower's width at a height: a straight batter that flares at the foot.
func towerHalf(y float64) float64 {
	t := (y - towerTop) / (towerBase - towerTop)
	return lerp(topHalf, baseHalf, t) + 26*math.Pow(math.Max(0, t), 9)
}

// lighthouse stands on the headland: tower, gallery, lantern.
func (c *canvas) lighthouse() {
	outline := []point{}
	for y := towerTop; y <= towerBase; y += 8 {
		outline = append(outline, point{towerX - towerHalf(y), y})
	}
	for i := 0; i <= 20; i++ { // its round foot
		a := math.Pi * float64(i) / 20
		outline = append(outline, point{towerX - towerHalf(towerBase)*math.Cos(a), towerBase + 20*math.Sin(a)})
	}
	for y := towerBase; y >= towerTop; y -= 8 {
		outline = append(outline, point{towerX + towerHalf(y), y})
	}
	c.fill(func(x, y float64) (colour.Linear, float64) { return towerAt(x, y), 1 }, outline)
	c.towerOpenings()
	c.plaque()
	c.gallery()
	c.lantern()
	c.railing()
}

// around is where a place lies on the round tower: -1 at its left edge, 1 at its right.
func around(x, y float64) float64 { return clamp((x-towerX)/towerHalf(y), -1, 1) }

// evening lights a round white thing: warm and full from the left, cold on the right.
func evening(turn float64) colour.Linear {
	angle := math.Asin(turn)
	sun := math.Pow(math.Max(0, math.Cos(angle+1.12)), 1.3)
	sky := 0.5 + 0.5*math.Cos(angle-0.4)
	bounce := math.Pow(math.Max(0, math.Cos(angle-1.45)), 3)
	return hex("#ffc98c").Scale(0.86 * sun).Add(hex("#7f9cc4").Scale(0.17 * sky)).Add(hex("#41608c").Scale(0.16 * bounce))
}

// towerAt is the look of the wall: courses of dressed stone under limewash, with two dark bands.
func towerAt(x, y float64) colour.Linear {
	turn := around(x, y)
	ring := y + 16*math.Sqrt(1-turn*turn)*(y-lampY)/1400 // courses curve, seen from below
	const course = 27.0
	row := math.Floor(ring / course)
	inRow := ring/course - row
	bricks := math.Asin(turn)/math.Pi*17 + 0.5*math.Mod(math.Abs(row), 2)
	inBrick := bricks - math.Floor(bricks)
	tone := 0.93 + 0.07*brickSeed.random(int(math.Floor(bricks)), int(row)) + 0.05*brickSeed.sum(x/9, y/9, 3)
	joint := math.Max(step(0.09, 0.03, inRow), step(0.06, 0.02, inBrick)*step(0.99, 0.8, math.Abs(turn)))
	streaks := step(0.05, 0.5, brickSeed.sum(x/26, y/420, 4)) * 0.22

	wash := hex("#f3ece0")
	for _, band := range [][2]float64{{1210, 1430}, {1690, 1930}} {
		inBand := step(band[0]-1, band[0]+1, ring) * step(band[1]+1, band[1]-1, ring)
		wash = colour.Mix(wash, hex("#7c2a24"), inBand)
	}
	look := wash.Scale(tone * (1 - 0.3*joint) * (1 - streaks))
	light := evening(turn)
	l := colour.Linear{R: look.R * light.R, G: look.G * light.G, B: look.B * light.B}
	// The gallery throws a shadow; damp darkens the foot.
	l = l.Scale(1 - 0.62*step(towerTop+120-70*turn, towerTop+30, y))
	return colour.Mix(l, hex("#1a2018"), 0.6*step(towerBase-110, towerBase+10, y+40*brickSeed.sum(x/40, y/30, 3)))
}

// towerOpenings are the windows up the stair and the door.
func (c *canvas) towerOpenings() {
	for _, w := range []struct{ y, turn float64 }{{1130, 0.1}, {1545, -0.16}, {2010, 0.24}} {
		x := towerX + w.turn*towerHalf(w.y)
		c.fill(flat(hex("#5d564c")), rect(x-31, w.y-60, x+31, w.y+56))
		c.fill(flat(hex("#2a2522")), archOutline(x, w.y-46, w.y+48, 23))
		c.fill(func(px, py float64) (colour.Linear, float64) {
			return colour.Mix(hex("#ffb347"), hex("#fff0c0"), bell(px-x, 11)*bell(py-w.y-10, 32)).Scale(0.95), 1
		}, archOutline(x, w.y-40, w.y+42, 18))
		c.line(flat(hex("#3a2b20")), 3, point{x, w.y - 56}, point{x, w.y + 42})
		for _, bar := range []float64{-18, 12} {
			c.line(flat(hex("#3a2b20")), 2.4, point{x - 18, w.y + bar}, point{x + 18, w.y + bar})
		}
		c.line(flat(hex("#c9b89a")), 5, point{x - 36, w.y + 58}, point{x + 36, w.y + 58})
	}
	const doorX, sill = towerX - 66, towerBase + 8
	c.fill(flat(hex("#8a7259")), archOutline(doorX, 2062, sill, 55))
	c.fill(flat(hex("#1c3f47")), archOutline(doorX, 2074, sill, 43))
	for i := -3; i <= 3; i++ {
		x := doorX + 12*float64(i)
		c.line(flat(hex("#0e242a")), 1.6, point{x, 2064}, point{x, sill})
	}
	for _, y := range []float64{2100, 2190} {
		c.line(flat(hex("#0a0d0e")), 5, point{doorX - 40, y}, point{doorX + 24, y})
	}
	c.fill(flat(hex("#e7b654")), ellipse(doorX+30, 2150, 4.5, 4.5))
	for i, half := range []float64{64, 78, 92} { // steps
		y := sill + 9*float64(i)
		c.fill(flat(hex([]string{"#a08468", "#8a7058", "#74604d"}[i])), rect(doorX-half, y, doorX+half, y+6))
		c.fill(flat(hex("#2a241f")), rect(doorX-half, y+6, doorX+half, y+9))
	}
}

// archOutline is a door or window with a round head.
func archOutline(x, top, low, half float64) []point {
	outline := []point{{x - half, low}}
	for i := 0; i <= 16; i++ {
		a := math.Pi * float64(i) / 16
		outline = append(outline, point{x - half*math.Cos(a), top - half*math.Sin(a) + half*0.2})
	}
	return append(outline, point{x + half, low})
}

// plaque has small letters, which bend round the tower as the wall does.
func (c *canvas) plaque() {
	const y0, y1, turn0, turn1 = 1738.0, 1880.0, -0.78, 0.62
	onWall := func(p point) point {
		half := towerHalf(p.y)
		s := math.Sin(p.x)
		return point{towerX + half*s, p.y - 10*math.Cos(p.x)}
	}
	angle0, angle1 := math.Asin(turn0), math.Asin(turn1)
	var frame []point
	for i := 0; i <= 20; i++ {
		frame = append(frame, onWall(point{lerp(angle0, angle1, float64(i)/20), y0}))
	}
	for i := 20; i >= 0; i-- {
		frame = append(frame, onWall(point{lerp(angle0, angle1, float64(i)/20), y1}))
	}
	c.fill(func(x, y float64) (colour.Linear, float64) {
		light := evening(around(x, y))
		return colour.Linear{R: 0.78 * light.R, G: 0.74 * light.G, B: 0.62 * light.B}, 1
	}, frame)
	ink := flat(hex("#1b1512"))
	c.line(ink, 2, append(frame, frame[0])...)
	for _, l := range []struct {
		text  string
		share float64 // of the plaque's width
		y     float64
	}{{"Saltmarrow Light", 0.86, 1785}, {"lit every night since 1871", 0.86, 1822}, {"52 steps, mind your head", 0.7, 1850}} {
		face := gosmallcaps.TTF
		radius := towerHalf(l.y)
		room := l.share * (angle1 - angle0) * radius
		size := 100 * room / textWidth(face, l.text, 100, 4)
		middle := (angle0 + angle1) / 2
		c.fill(ink, letters(face, l.text, size, size/25, func(p point) point {
			return onWall(point{middle + (p.x-room/2)/radius, l.y + p.y})
		})...)
	}
}
