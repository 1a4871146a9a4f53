package layout

import (
	"fmt"
	"time"
)

const (
	canFirst       = "what the can says comes first: its times, temperatures and distances"
	heatGunCaution = "take cans and rags away and let the vapour leave before the heat gun is switched on: solvents and propellants burn; keep it moving and far enough that the paint does not blister"
	cureCaution    = "burn only paint that has cured: while it smells of solvent it is not; days are safer than hours"
	sprayCaution   = "spray outdoors or with filtered exhaust and a mask for paint vapour, away from flame and anything that can spark"
	neverAlone     = "somebody stays with the burn from its start to its end, with means to put out a fire at hand"
	burnFumes      = "eyewear made for the laser's wavelength, fumes led outdoors or filtered"
)

// An enamel takes its next coat within an hour or after two days; in between the
// solvent of the new coat swells the skin of the old one.
// Source: instructions for general-purpose enamel sprays as sellers repeat them
// (second coat within 1 h or after 48 h); other makers say 24 h, from memory.
const (
	recoatBefore = time.Hour
	recoatAfter  = 48 * time.Hour
)

// Nobody should have to burn at night. Common practice, no source.
const (
	nightFrom = 22
	nightTo   = 6
)

func (p Plan) cautions(h Habits, steps []Step) []string {
	all := []string{canFirst, sprayCaution, cureCaution, burnFumes, neverAlone}
	if len(p.Coats) > 1 && h.Between+3*h.Pass > recoatBefore && h.Between < recoatAfter {
		all = append(all, fmt.Sprintf("%s between coats falls into the time in which many enamels wrinkle under the next coat: within 1 h or after 48 h is what they ask for",
			FormatDuration(h.Between)))
	}
	if h.Cure < 24*time.Hour {
		all = append(all, fmt.Sprintf("%s from the last coat to the burn is less than the usual 24 h", FormatDuration(h.Cure)))
	}
	for _, s := range steps {
		if s.What.Hands() && s.Duration > 0 && atNight(s.Start, s.End()) {
			all = append(all, fmt.Sprintf("%q from %02d:%02d runs into the night: start at another time", s.String(), s.Start.Hour(), s.Start.Minute()))
		}
	}
	return all
}

// atNight tells whether a time reaches into the night.
func atNight(start, end time.Time) bool {
	asleep := func(t time.Time) bool { return t.Hour() >= nightFrom || t.Hour() < nightTo }
	if asleep(start) || asleep(end.Add(-time.Nanosecond)) {
		return true
	}
	tonight := time.Date(start.Year(), start.Month(), start.Day(), nightFrom, 0, 0, 0, start.Location())
	return end.After(tonight)
}
