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
	if s.leftward {
		s.sweepLeft(tints, dots)
	} else {
		s.sweepRight(tints, dots)
	}
	s.leftward = s.serpentine && !s.leftward
}

// decide tells whether a dot burns to which v is due, all ones for yes and zero for
// no, and shares out its error.
//
// A row of dots, each waiting for the one before, takes its time for the share that
// goes ahead. Full is a multiple of 16, so that share of what is due less that of a
// burned dot is the share of the error to the last bit, and need not wait until the
// dot is decided.
func decide(v int32) (burns, ahead, back, straight, under int32) {
	burns = (half - 1 - v) >> 31 // from half upwards
	ahead = 7*v>>4 - burns&(7*(full/16))
	e := v - burns&full
	back, straight = 3*e>>4, 5*e>>4
	return burns, ahead, back, straight, e - ahead - back - straight
}

// sweepRight decides a row from left to right, eight dots at a time. It rewrites
// carried in place: a cell is final for the row below once the dot after it is done.
func (s *floydSteinberg) sweepRight(tints []uint16, dots []byte) {
	var burns, back, straight, next int32
	var ahead, behind, under int32 // for the next dot; below the dot before; below this dot
	whole := len(tints) / 8
	for i := range whole {
		t, c := (*[8]uint16)(tints[8*i:]), (*[10]int32)(s.carried[8*i:])
		packed := int32(0)
		for k := range t {
			burns, ahead, back, straight, next = decide(int32(t[k])<<fine + c[k+1] + ahead)
			c[k] = behind + back
			behind, under = under+straight, next
			packed = packed<<1 - burns
		}
		dots[i] = byte(packed)
	}
	packed := int32(0)
	for x := 8 * whole; x < len(tints); x++ {
		burns, ahead, back, straight, next = decide(int32(tints[x])<<fine + s.carried[x+1] + ahead)
		s.carried[x] = behind + back
		behind, under = under+straight, next
		packed |= burns & (0x80 >> (x & 7))
	}
	if whole < len(dots) {
		dots[whole] = byte(packed)
	}
	s.carried[len(tints)] = behind
}

// sweepLeft is sweepRight, mirrored.
func (s *floydSteinberg) sweepLeft(tints []uint16, dots []byte) {
	var burns, back, straight, next int32
	var ahead, behind, under int32
	whole := len(tints) / 8
	packed := int32(0)
	for x := len(tints) - 1; x >= 8*whole; x-- {
		burns, ahead, back, straight, next = decide(int32(tints[x])<<fine + s.carried[x+1] + ahead)
		s.carried[x+2] = behind + back
		behind, under = under+straight, next
		packed |= burns & (0x80 >> (x & 7))
	}
	if whole < len(dots) {
		dots[whole] = byte(packed)
	}
	for i := whole - 1; i >= 0; i-- {
		t, c := (*[8]uint16)(tints[8*i:]), (*[10]int32)(s.carried[8*i:])
		packed = 0
		for k := 7; k >= 0; k-- {
			burns, ahead, back, straight, next = decide(int32(t[k])<<fine + c[k+1] + ahead)
			c[k+2] = behind + back
			behind, under = under+straight, next
			packed = packed>>1 | burns&0x80
		}
		dots[i] = byte(packed)
	}
	s.carried[1] = behind
}
