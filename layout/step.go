package layout

import (
	"fmt"
	"time"
)

// What is what is done in a step.
type What string

// The steps from a blank panel to one on the wall.
const (
	SprayEdges  What = "spray the edges"
	SprayAlong  What = "spray one way"
	SprayAcross What = "spray across"
	LetDry      What = "let dry"
	WarmDry     What = "dry with a heat gun"
	LetCure     What = "let cure before burning"
	Burn        What = "burn"
	WipeDamp    What = "wipe slightly damp"
	WipeDry     What = "wipe dry"
	TryClear    What = "try the clear coat on a scrap"
	ClearCoat   What = "clear coat"
	ClearDry    What = "let the clear coat dry"
	TouchEdges  What = "touch up the edges"
	Hang        What = "hang"
)

// Hands tells whether somebody has to be there. A burn is never left alone.
func (w What) Hands() bool {
	switch w {
	case LetDry, LetCure, ClearDry:
		return false
	}
	return true
}

// Step is one thing to do.
type Step struct {
	Start    time.Time // zero for steps without a timetable
	Duration time.Duration
	What     What
	Coat     string // the name of the coat that is sprayed or dries
	Layer    int    // its place in the stack, 1 for the top coat; 0 for steps without a coat
	Cautions []string
}

// End is when the step is done.
func (s Step) End() time.Time { return s.Start.Add(s.Duration) }

// String says what to do, without the time.
func (s Step) String() string {
	if s.Coat == "" {
		return string(s.What)
	}
	return fmt.Sprintf("%s: %s", s.Coat, s.What)
}

// Clock is a time of day as people say it, on some day after another.
type Clock struct {
	Hour, Minute int
	Days         int // 0 the same day, 1 the next
}

// BurnEnds is when a burn that starts at a time is over, to the next whole
// minute, in the start's own time zone.
func BurnEnds(start time.Time, burn time.Duration) (time.Time, Clock) {
	end := start.Add(max(0, burn))
	if whole := end.Truncate(time.Minute); whole.Before(end) {
		end = whole.Add(time.Minute)
	}
	return end, ClockOf(start, end)
}

// ClockOf is a time as seen from the day of another, in the other's time zone.
func ClockOf(from, at time.Time) Clock {
	at = at.In(from.Location())
	date := func(t time.Time) time.Time {
		return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
	}
	return Clock{Hour: at.Hour(), Minute: at.Minute(), Days: int(date(at).Sub(date(from)).Hours() / 24)}
}

// String writes `18:40`, `02:10 the next day`, `09:00 two days later`,
// `09:00 12 days later`.
func (c Clock) String() string {
	text := fmt.Sprintf("%02d:%02d", c.Hour, c.Minute)
	switch {
	case c.Days == 0:
		return text
	case c.Days == 1:
		return text + " the next day"
	case c.Days == 2:
		return text + " two days later"
	default:
		return fmt.Sprintf("%s %d days later", text, c.Days)
	}
}
