package screen

import (
	"cmp"
	"math"
	"slices"
)

// newClustered makes dots that grow in cells, or lines that grow wider. The cells
// lie at any distance and angle, so no two fall alike on the raster's dots. A tile
// holds many of them, a whole number in each direction. In each cell the dots burn
// from the middle outwards; the cells keep step, one dot each, and take turns in
// the order of the blue noise mask. So every tint is met, whatever the cell: where
// cells have but 36 dots, the 37th tint is one more dot in some of them.
func newClustered(_ int, o Options) Screener {
	if o.Spot == "" {
		o.Spot = Round
	}
	key := clusterKey{o.cell(), o.AngleDegrees, o.Spot}
	return &ordered{grid: clusters.get(key, func() *tile { return newClusterTile(key) })}
}

type clusterKey struct {
	cell, degrees float64
	spot          Spot
}

var clusters recent[clusterKey, *tile]

// screw is a lattice that repeats after size dots in both directions: its phase
// rises by along/size for a dot to the right and falls by across/size for a dot
// down; the other phase, at right angles, rises by across and by along.
type screw struct{ size, along, across int }

// newScrew finds the tile on which the lattice comes nearest to the one asked for.
// In cells of up to 8 dots it is off by no more than 0.6 % of the distance and 1.2
// degrees, and mostly by far less; in the largest by 1.5 % and 2.5 degrees.
func newScrew(cell, degrees float64) screw {
	const smallest, rounding = 64, 1e-9
	largest := int(min(512, max(256, 24*cell)))
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	var best screw
	off := math.Inf(1)
	for size := smallest; size <= largest; size++ {
		fx, fy := cos/cell*float64(size), sin/cell*float64(size)
		along, across := math.Round(fx), math.Round(fy)
		if d := math.Hypot(along-fx, across-fy) / float64(size); d < off-rounding {
			off, best = d, screw{size, int(along), int(across)}
		}
	}
	return best
}

// phases are where a dot of the tile lies in the lattice, in 1/size.
func (s screw) phases(x, y int) (u, v int) {
	return s.along*x - s.across*y, s.across*x + s.along*y
}

// same names a cell alike wherever the tile is repeated: by where in the tile its
// middle lies.
func (s screw) same(i, j int) [2]int {
	cells := s.along*s.along + s.across*s.across
	return [2]int{modulo(i*s.along+j*s.across, cells), modulo(j*s.along-i*s.across, cells)}
}

// spotCell is one cell of a tile.
type spotCell struct {
	turn int // its place among cells that are equally far
	dots []spotDot
}

type spotDot struct {
	place, turn int
	height      int64 // how early it burns: the nearer to the middle the higher
}

// newClusterTile ranks the dots of a tile.
func newClusterTile(key clusterKey) *tile {
	s := newScrew(key.cell, key.degrees)
	cells := s.cells(key.spot)
	type step struct {
		at    int64
		place int
	}
	var steps []step
	for _, c := range cells {
		slices.SortFunc(c.dots, func(a, b spotDot) int {
			return cmp.Or(cmp.Compare(b.height, a.height), cmp.Compare(a.turn, b.turn))
		})
		for n, d := range c.dots {
			steps = append(steps, step{int64(n*maskPlaces+c.turn) << 16 / int64(len(c.dots)), d.place})
		}
	}
	slices.SortFunc(steps, func(a, b step) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.place, b.place)) })
	t := &tile{w: s.size, h: s.size, thresholds: make([]uint16, len(steps))}
	for rank, st := range steps {
		t.thresholds[st.place] = threshold(rank, len(steps))
	}
	return t
}

// cells sorts the tile's dots into its cells.
func (s screw) cells(spot Spot) []*spotCell {
	// Heights are whole numbers, so that the same are the same on every machine.
	bell := func(phase int) int64 { // highest half-way, in the middle of the cell
		return -int64(math.Round(math.Cos(2*math.Pi*float64(phase)/float64(s.size)) * (1 << 20)))
	}
	known := map[[2]int]*spotCell{}
	var cells []*spotCell
	for y := range s.size {
		for x := range s.size {
			u, v := s.phases(x, y)
			i, j := floorDiv(u, s.size), floorDiv(v, s.size)
			name := s.same(i, j)
			c := known[name]
			if c == nil {
				c = &spotCell{turn: maskRank(i, j)}
				known[name] = c
				cells = append(cells, c)
			}
			height := bell(v)
			if spot == Round {
				height += bell(u)
			}
			c.dots = append(c.dots, spotDot{y*s.size + x, maskRank(x, y), height})
		}
	}
	return cells
}

func floorDiv(a, b int) int { return (a - modulo(a, b)) / b }

func modulo(a, b int) int { return (a%b + b) % b }
