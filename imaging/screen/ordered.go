package screen

// grid is an endless plane of thresholds.
type grid interface {
	// row is one period of row y of the raster: a dot burns from its threshold,
	// 1..65535, upwards. It is valid until the next call.
	row(y int) []uint16
}

// ordered compares each tint with the threshold of its place. Dots do not depend
// on each other, so it settles nowhere and has no edges.
type ordered struct {
	grid grid
	y    int
}

func (s *ordered) Row(tints []uint16, dots []byte) {
	thresholds := s.grid.row(s.y)
	s.y++
	clear(dots)
	for x0 := 0; x0 < len(tints); x0 += len(thresholds) {
		part := tints[x0:min(len(tints), x0+len(thresholds))]
		for i, threshold := range thresholds[:len(part)] {
			burn := (int32(threshold) - 1 - int32(part[i])) >> 31 & 1
			x := x0 + i
			dots[x>>3] |= byte(burn << (7 - x&7))
		}
	}
}

// threshold is the least tint that burns in a place of the given rank among equal
// places: the middle of its step, so that a tint of k/places burns k of them.
func threshold(rank, places int) uint16 {
	return uint16((2*int64(rank)+1)*65535/(2*int64(places))) + 1
}

// tile is a grid that repeats one rectangle of thresholds.
type tile struct {
	w, h       int
	thresholds []uint16
}

func (t *tile) row(y int) []uint16 {
	y %= t.h
	return t.thresholds[y*t.w : (y+1)*t.w]
}

// newThreshold burns from half upwards, everywhere.
func newThreshold(int, Options) Screener {
	return &ordered{grid: &tile{w: 1, h: 1, thresholds: []uint16{threshold(0, 1)}}}
}
