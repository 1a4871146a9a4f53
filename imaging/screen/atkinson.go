package screen

import (
	"context"
	"math"

	"undercoat/imaging/plane"
)

// Atkinson's filter passes on three quarters of the error. That leaves light and
// dark tints bare: below an eighth not a dot burns, and the tints between come out
// with more contrast. Unless it is left plain, the tints are spread beforehand by
// what it does to them, so that every tint comes out as asked, with the filter's
// open texture.
func newAtkinson(width int, o Options) Screener {
	s := diffusing(atkinsonKernel)(width, o)
	if e, ok := s.(*endless); ok {
		key := atkinsonKey{o.OneWay, o.MinDot, o.MinGap}
		e.adapt = atkinsonTints.get(key, func() *spreadTints { return measureAtkinson(o) })
	}
	return s
}

type atkinsonKey struct {
	oneWay         bool
	minDot, minGap int
}

var atkinsonTints recent[atkinsonKey, *spreadTints]

// spreadTints are tints made up for a filter that does not keep them. A little
// blue noise goes with them: in even tints near a third the filter falls into
// a lasting pattern, and no tint would give the shares about it.
type spreadTints [65536]uint16

func (s *spreadTints) row(y int, tints, into []uint16) {
	var noise [maskSize]uint16
	for x, place := range mask()[modulo(y, maskSize)*maskSize:][:maskSize] {
		noise[x] = uint16(place/atkinsonNoise) - maskPlaces/atkinsonNoise/2
	}
	into = into[:len(tints)]
	for x, t := range tints {
		v := s[t]
		if t-1 < 65534 { // neither none nor all
			v += noise[uint(x)%maskSize]
		}
		into[x] = v
	}
}

// atkinsonNoise makes the noise a sixteenth of the tints from its lowest to its
// highest.
const atkinsonNoise = maskPlaces * 16 / 65536

// Tints are measured from the last one that gives nothing to the first that gives
// all, closer together near the two, where the share rises fastest.
const (
	atkinsonLowest  = 65535/8 - maskPlaces/atkinsonNoise/2
	atkinsonHighest = 65535 - atkinsonLowest
	atkinsonSteps   = 256
	atkinsonWide    = 192 // dots of even tint
	atkinsonRows    = 192
)

// measureAtkinson finds the tint that gives each share of burned dots: some tenths
// of a second's work on one core at most. Products are rounded before they are
// added, which makes the tints the same on every machine.
func measureAtkinson(o Options) *spreadTints {
	o.Seed = 0
	var given, burned [atkinsonSteps + 1]float64
	for i := range given {
		way := (1 - math.Cos(math.Pi*float64(i)/atkinsonSteps)) / 2
		given[i] = atkinsonLowest + float64(way*(atkinsonHighest-atkinsonLowest))
	}
	measured := len(given)
	if alike := max(1, o.MinDot) == max(1, o.MinGap); alike {
		measured = atkinsonSteps / 2 // dots and gaps change places at half
	}
	_ = plane.SplitRows(context.Background(), measured, func(_ context.Context, i0, i1 int) error { // cannot fail
		for i := i0; i < i1; i++ {
			burned[i] = 65535 * atkinsonShare(uint16(given[i]), o)
		}
		return nil
	})
	for i := measured; i < len(given); i++ {
		burned[i] = 65535 - burned[atkinsonSteps-i]
	}
	if measured <= atkinsonSteps/2 {
		burned[atkinsonSteps/2] = 65535.0 / 2
	}
	burned[0], burned[atkinsonSteps] = 0, 65535
	for i := range atkinsonSteps {
		burned[i+1] = max(burned[i], burned[i+1])
	}
	table := new(spreadTints)
	at := 0
	for t := 1; t < 65535; t++ {
		for burned[at+1] < float64(t) {
			at++
		}
		way := (float64(t) - burned[at]) / (burned[at+1] - burned[at])
		table[t] = uint16(given[at] + float64(way*(given[at+1]-given[at])) + 0.5)
	}
	table[65535] = 65535
	return table
}

// atkinsonShare is the share of dots that burn in an even tint.
func atkinsonShare(tint uint16, o Options) float64 {
	s := newEndless(atkinsonWide, o, newDiffuser(atkinsonWide+2*margin, margin, atkinsonKernel, o))
	s.adapt = new(spreadTints)
	row, dots := make([]uint16, atkinsonWide), make([]byte, atkinsonWide/8)
	for x := range row {
		row[x] = tint
	}
	s.adapt[tint] = tint
	n := 0
	for range atkinsonRows {
		s.Row(row, dots)
		n += burnedIn(dots)
	}
	return float64(n) / (atkinsonWide * atkinsonRows)
}
