package layout

import (
	"fmt"
	"math"
	"time"
)

// Motion is how a machine moves while it burns.
type Motion struct {
	Speed               MMPerSecond
	AccelerationMMPerS2 float64
	RunUp               MM   // travel past both ends of a line
	SkipsBlank          bool // blank line ends and blank lines are not travelled
}

// forever is the time of a motion that never arrives.
const forever = time.Duration(math.MaxInt64)

// Validate refuses a speed outside 0..MaxSpeed, an acceleration that is not
// above 0, and a run-up outside 0..MaxLength.
func (m Motion) Validate() error {
	if !(m.Speed > 0 && m.Speed <= MaxSpeed) {
		return fmt.Errorf("speed %v is not possible: choose one above 0 and up to 120000 mm/min", m.Speed)
	}
	if !(m.AccelerationMMPerS2 > 0 && m.AccelerationMMPerS2 <= math.MaxFloat64) {
		return fmt.Errorf("acceleration %g mm/s2 is not possible: choose one above 0", m.AccelerationMMPerS2)
	}
	if !(m.RunUp >= 0 && m.RunUp <= MaxLength) {
		return fmt.Errorf("run-up %s is not possible: choose one from 0 to 10000 mm", Millimetre.Format(m.RunUp))
	}
	return nil
}

// Move is the time from rest to rest over a distance: a trapezoid of speed, or a
// triangle where full speed is never reached.
//
// With v the speed and a the acceleration it is d/v + v/a from d = v^2/a on, and
// 2 sqrt(d/a) below. No distance takes no time; a speed or acceleration that is
// not above 0 never arrives, which is the longest Duration.
func (m Motion) Move(d MM) time.Duration { return duration(m.seconds(d)) }

func (m Motion) seconds(d MM) float64 {
	if d <= 0 {
		return 0
	}
	v, a := float64(m.Speed), m.AccelerationMMPerS2
	if !(v > 0 && a > 0) {
		return math.Inf(1)
	}
	if float64(d) < v*v/a {
		return 2 * math.Sqrt(float64(d)/a)
	}
	return float64(d)/v + v/a
}

// RasterTime is the time of one pass over a raster, burned both ways, a line for
// each row of dots. spans gives the width of a row from its first to its last
// burned dot, 0 for a blank row; it is asked only of a machine that skips blanks,
// and nil stands for full width.
//
// A line is a move over its span with the run-up at both ends, or with the ramp
// v^2/2a where that is longer; one line step comes with each line, and the steps
// over skipped rows are made in one move. The way sideways from the end of one
// span to the start of the next is not counted.
func (m Motion) RasterTime(spans func(row int) MM, g Grid) time.Duration {
	full := g.Size().W
	leadIn := max(m.RunUp, m.ramp())
	fullLine := m.seconds(full + 2*leadIn)
	var total float64
	var step MM
	for row := range g.Rows {
		step += g.Pitch
		line := fullLine
		if m.SkipsBlank && spans != nil {
			span := min(spans(row), full)
			if span <= 0 {
				continue
			}
			line = m.seconds(span + 2*leadIn)
		}
		total += line + m.seconds(step)
		step = 0
	}
	return duration(total)
}

// ramp is the distance in which the head reaches speed.
func (m Motion) ramp() MM {
	return MM(float64(m.Speed) * float64(m.Speed) / (2 * m.AccelerationMMPerS2))
}

// duration rounds to the nanosecond and stays in range.
func duration(seconds float64) time.Duration {
	ns := math.Round(seconds * float64(time.Second))
	if !(ns < float64(forever)) {
		return forever
	}
	return time.Duration(ns)
}
