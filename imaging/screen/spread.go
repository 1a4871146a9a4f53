package screen

// unit is how the parts of errors are added up before they are rounded, once a
// dot: in 1/2^unit of a fine tint.
const unit = 32

// spread is error diffusion by any kernel. It keeps the errors of the rows above
// and gathers from them what is due to each dot, so that all parts are rounded
// together and nothing but that rounding is lost. What falls off the raster's edge
// is dropped.
//
// As with Floyd and Steinberg a tint of 0 never burns and one of 65535 always
// does: errors lie between minus half and half, so what is due to a dot does too.
type spread struct {
	kernel     kernel // parts in 1/2^unit
	errors     [3][]int32
	due        []int64 // of this row: its tint and what comes from above, in 1/2^unit
	runs       *runs   // nil for none
	serpentine bool
	leftward   bool
}

func newSpread(width, margin int, k kernel, o Options) *spread {
	s := &spread{kernel: k, due: make([]int64, width), runs: newRuns(width, margin, o), serpentine: !o.OneWay}
	for i := range s.errors { // of this row and the two above, with reach empty dots at both ends
		s.errors[i] = make([]int32, width+2*reach)
	}
	part := int64(1<<unit) / k.of // rounded down, lest errors grow past half
	for i := range k.ahead {
		s.kernel.ahead[i] *= part
	}
	for r := range k.below {
		for i := range k.below[r] {
			s.kernel.below[r][i] *= part
		}
	}
	return s
}

func (s *spread) begin(above [2][]int32) {
	copy(s.errors[1][reach:], above[0])
	copy(s.errors[2][reach:], above[1])
}

func (s *spread) Row(tints []uint16, dots []byte) {
	clear(dots)
	s.gather(tints)
	x, step := 0, 1
	if s.leftward {
		x, step = len(tints)-1, -1
	}
	if s.runs == nil {
		s.sweep(dots, x, step)
	} else {
		s.runs.look(tints, step)
		s.sweepRuns(dots, x, step)
	}
	s.leftward = s.serpentine && !s.leftward
	s.errors[0], s.errors[1], s.errors[2] = s.errors[2], s.errors[0], s.errors[1]
}

// gather adds what is due to each dot of the row.
func (s *spread) gather(tints []uint16) {
	near, far := s.kernel.below[0], s.kernel.below[1]
	if far != (weights{}) {
		gatherTwo(tints, s.errors[1], s.errors[2], near, far, s.due)
		return
	}
	if s.serpentine == s.leftward { // the row above ran to the right: its parts lie the other way round, seen from below
		near[0], near[1], near[3], near[4] = near[4], near[3], near[1], near[0]
	}
	gatherOne(tints, s.errors[1], near, s.due)
}

// gatherOne gathers from the row above. w[0] is the part of the dot two to the left.
func gatherOne(tints []uint16, above []int32, w weights, due []int64) {
	w0, w1, w2, w3, w4 := w[0], w[1], w[2], w[3], w[4]
	due, above = due[:len(tints)], above[:len(tints)+2*reach]
	for x, t := range tints {
		a := above[x : x+5 : x+5]
		due[x] = int64(t)<<(fine+unit) + w0*int64(a[0]) + w1*int64(a[1]) + w2*int64(a[2]) + w3*int64(a[3]) + w4*int64(a[4])
	}
}

// gatherTwo gathers from the two rows above, by kernels that are their own mirror
// images; all that reach so far are.
func gatherTwo(tints []uint16, above, higher []int32, near, far weights, due []int64) {
	n0, n1, n2 := near[0], near[1], near[2]
	f0, f1, f2 := far[0], far[1], far[2]
	due, above, higher = due[:len(tints)], above[:len(tints)+2*reach], higher[:len(tints)+2*reach]
	for x, t := range tints {
		a := above[x : x+5 : x+5]
		h := higher[x : x+5 : x+5]
		due[x] = int64(t)<<(fine+unit) + n0*int64(a[0]+a[4]) + n1*int64(a[1]+a[3]) + n2*int64(a[2]) +
			f0*int64(h[0]+h[4]) + f1*int64(h[1]+h[3]) + f2*int64(h[2])
	}
}

// sweep decides the row's dots from dot x on, by steps of +1 or -1.
func (s *spread) sweep(dots []byte, x, step int) {
	one, two := s.kernel.ahead[0], s.kernel.ahead[1]
	errors, due := s.errors[0][reach:], s.due
	var e1, e2 int64 // of the last dot and the one before
	for range due {
		v := int32((due[x] + one*e1 + two*e2) >> unit)
		burn := (half - 1 - v) >> 31 & 1 // 1 from half upwards
		dots[x>>3] |= byte(burn << (7 - x&7))
		e := v - burn*full
		errors[x] = e
		e1, e2 = int64(e), e1
		x += step
	}
}

// sweepRuns is sweep with the last word left to the runs.
func (s *spread) sweepRuns(dots []byte, x, step int) {
	one, two := s.kernel.ahead[0], s.kernel.ahead[1]
	errors, due := s.errors[0][reach:], s.due
	var e1, e2 int64
	for range due {
		v := (due[x] + one*e1 + two*e2) >> unit
		if s.runs.next(x, v >= half) {
			dots[x>>3] |= 0x80 >> (x & 7)
			v -= full
		}
		e := max(-mostError, min(mostError, v))
		errors[x] = int32(e)
		e1, e2 = e, e1
		x += step
	}
}
