package screen

import "sync"

// beamAware is error diffusion that counts what burns instead of dots. A beam
// reaches beyond its cell, so dots next to each other overlap, and a tint of half
// the dots burns far more than half the area. Here a dot counts for what it adds to
// its own cell and the eight about it, given the dots that were decided before; it
// burns when at least half of that is due. The error is what is due less what was
// added, so that all that is burned adds up to the tints. It goes on by the weights
// of Floyd and Steinberg.
//
// What a dot burns of cells in which nothing shall burn, and what it adds where all
// burns anyway, nobody can take back: of an error below nothing that is due there
// only half goes on, lest it come out as a light seam further down.
//
// Source: T. N. Pappas and D. L. Neuhoff, "Printer models and error diffusion",
// IEEE Trans. Image Processing 4/1 (1995) 66-80: error diffusion with the printer's
// model in the loop, in which decisions also change cells passed before.
type beamAware struct {
	gains      *[2][decidedPatterns]int32
	most       int32
	carried    []int32 // as in floydSteinberg
	above      []uint8 // for each dot and two beyond at both ends: burned two rows above, one row above
	runs       *runs
	serpentine bool
	leftward   bool
}

var defaultCells = sync.OnceValue(func() *CellTable {
	c, err := GeometricCells(DefaultRadius)
	if err != nil {
		panic(err)
	}
	return c
})

func newBeamAware(width int, o Options) Screener {
	edge := margin
	if o.Plain {
		edge = 0
	}
	cells := o.Cells
	if cells == nil {
		cells = defaultCells()
	}
	wide := width + 2*edge
	b := &beamAware{
		gains: &cells.gains, most: cells.most, carried: make([]int32, wide+2), above: make([]uint8, wide+4),
		runs: newRuns(wide, edge, o), serpentine: !o.OneWay,
	}
	if o.Plain {
		return b
	}
	return newEndless(width, o, b)
}

// begin puts the errors to the scale of what dots gain.
func (s *beamAware) begin(above [2][]int32) {
	for x, e := range above[0] {
		if e > 0 {
			e = int32(int64(e) * int64(s.most) / full)
		}
		s.carried[x+1] = 9 * (e / 16)
	}
}

func (s *beamAware) Row(tints []uint16, dots []byte) {
	clear(dots)
	x, step, gains := 0, 1, &s.gains[0]
	if s.leftward {
		x, step, gains = len(tints)-1, -1, &s.gains[1]
	}
	if s.runs != nil {
		s.runs.look(tints, step)
	}
	s.sweep(tints, dots, x, step, gains)
	s.leftward = s.serpentine && !s.leftward
}

// freeDot is the least that counts for a dot when it is weighed against what is
// due: the first of several dots that burn only together adds next to nothing, but
// is not for nothing.
const freeDot = full / 2

func (s *beamAware) sweep(tints []uint16, dots []byte, x, step int, gains *[decidedPatterns]int32) {
	carried, above := s.carried, s.above[2:]
	if len(tints) == 0 {
		return
	}
	var ahead, behind, under int32
	window, last := 0, 0 // of the two rows above from two dots back to two on; of the row's last two dots
	for i := -2; i < 2; i++ {
		window = window<<2 | int(s.above[x+i*step+2])
	}
	for range tints {
		window = (window<<2 | int(s.above[x+2*step+2])) & (1<<10 - 1)
		gain := gains[window<<2|last]
		tint := int32(tints[x])
		v := tint<<fine + carried[x+1] + ahead
		burns := 2*v >= max(gain, freeDot)
		if s.runs != nil {
			burns = s.runs.next(x, burns)
		} else if tint == 0 {
			burns = false
		} else if tint == 65535 {
			burns = true
		}
		bit := 0
		e := v
		if burns {
			bit = 1
			e -= gain
		}
		if e < 0 && (tint == 0 || tint == 65535) {
			e /= 2
		}
		e = max(-mostError, min(mostError, e))
		dots[x>>3] |= byte(bit << (7 - x&7))
		above[x] = (above[x]<<1 | uint8(bit)) & 3
		last = (last<<1 | bit) & 3
		ahead = 7 * e >> 4
		back, straight := 3*e>>4, 5*e>>4
		carried[x+1-step] = behind + back
		behind = under + straight
		under = e - ahead - back - straight
		x += step
	}
	carried[x+1-step] = behind
}
