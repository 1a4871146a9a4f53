package screen

// Tints are diffused in 1/256 of their unit, so that two generations of
// sixteenths are still whole numbers. Nothing overflows 32 bits: errors stay
// within half of full.
const (
	fine = 8
	full = 65535 << fine
	half = full / 2
)

// floydSteinberg is the filter of R. W. Floyd and L. Steinberg, "An adaptive
// algorithm for spatial grey scale", Proc. SID 17/2 (1976) 75-77: a dot burns
// from half upwards, and its error goes on
//
//	        dot   7/16
//	3/16   5/16   1/16
//
// the rows run alternately to the right and, mirrored, to the left, unless they
// are asked to run one way. The fourth share is what the other three leave, so
// no error is lost to rounding; what falls off the raster's edge is dropped.
//
// A tint of 0 never burns and one of 65535 always does, whatever stands round
// it: the four shares that reach a dot come to less than half, or to no less
// than minus half.
type floydSteinberg struct {
	// carried[x+1] is the error the row above has left for dot x. The two ends
	// catch what falls off the edge and are never read.
	carried    []int32
	serpentine bool
	leftward   bool
}

func newFloydSteinberg(width int, o Options) *floydSteinberg {
	return &floydSteinberg{carried: make([]int32, width+2), serpentine: !o.OneWay}
}

// begin leaves nine sixteenths of the errors above where they stand.
func (s *floydSteinberg) begin(above [2][]int32) {
	for x, e := range above[0] {
		s.carried[x+1] = 9 * (e / 16)
	}
}

func (s *floydSteinberg) Row(tints []uint16, dots []byte) {
	clear(dots)
	if s.leftward {
		s.sweep(tints, dots, len(tints)-1, -1)
	} else {
		s.sweep(tints, dots, 0, 1)
	}
	s.leftward = s.serpentine && !s.leftward
}

// sweep runs over the row from dot x by steps of +1 or -1. It rewrites carried
// in place: a cell is final for the row below once the dot after it is done.
func (s *floydSteinberg) sweep(tints []uint16, dots []byte, x, step int) {
	carried := s.carried
	var ahead, behind, under int32 // for the next dot; below the dot before; below this dot
	for range tints {
		v := int32(tints[x])<<fine + carried[x+1] + ahead
		burn := (half - 1 - v) >> 31 & 1 // 1 from half upwards
		dots[x>>3] |= byte(burn << (7 - x&7))
		e := v - burn*full
		ahead = 7 * e >> 4
		back, straight := 3*e>>4, 5*e>>4
		carried[x+1-step] = behind + back
		behind = under + straight
		under = e - ahead - back - straight
		x += step
	}
	carried[x+1-step] = behind
}
