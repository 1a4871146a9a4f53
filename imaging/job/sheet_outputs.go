package job

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Output is a part of the hand-off.
type Output string

const (
	RasterOutput    Output = "raster"
	PlacementOutput Output = "placement"
	ProofOutput     Output = "proof"
	SheetOutput     Output = "sheet"    // the job sheet
	ClientOutput    Output = "client"   // the proof sheet for the client
	CalendarOutput  Output = "calendar" // the timetable
)

// Outputs is every part, in the order they are made.
func Outputs() []Output {
	return []Output{RasterOutput, ProofOutput, SheetOutput, ClientOutput, CalendarOutput, PlacementOutput}
}

// The names of the files in the hand-off.
const (
	RasterFile        = "raster.png"
	PlacementTextFile = "placement.txt"
	PlacementJSONFile = "placement.json"
	ProofFile         = "proof.png"
	SheetFile         = "sheet.pdf"
	ClientFile        = "client.pdf"
	CalendarFile      = "timetable.ics"
)

// errNoStart is for a calendar that does not know when to begin.
var errNoStart = errors.New("a calendar needs the day and the time at which the painting starts: give a start, or leave the calendar out")

// wants tells whether a part is prepared. Without a choice it is raster, placement
// note, proof and job sheet; the calendar where there is a start, and the client's
// sheet where there are rates.
func (r Request) wants(o Output) bool {
	if len(r.Only) > 0 {
		return slices.Contains(r.Only, o)
	}
	switch o {
	case ClientOutput:
		return r.Workshop.Rates != nil
	case CalendarOutput:
		return !r.Workshop.Start.IsZero()
	}
	return true
}

// OutputNames lists the names of all parts, for people.
func OutputNames() string {
	var names []string
	for _, o := range Outputs() {
		names = append(names, string(o))
	}
	return strings.Join(names, ", ")
}

// ParseOutputs reads the names of parts.
func ParseOutputs(names []string) ([]Output, error) {
	var out []Output
	for _, n := range names {
		o := Output(strings.TrimSpace(n))
		if !slices.Contains(Outputs(), o) {
			return nil, fmt.Errorf("%q is not a part of the hand-off: choose from %s", n, OutputNames())
		}
		out = append(out, o)
	}
	return out, nil
}
