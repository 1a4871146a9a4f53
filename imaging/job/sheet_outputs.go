package job

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"undercoat/imaging/export"
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

// Parts are those that are prepared, in the order they are made.
func (r Request) Parts() []Output {
	return slices.DeleteFunc(Outputs(), func(o Output) bool { return !r.wants(o) })
}

// FileNames are the files that a request makes of a job, in their order, by a note that
// [Foresee] gave for it.
func (r Request) FileNames(n export.Note) []string {
	var out []string
	for _, o := range r.Parts() {
		switch o {
		case RasterOutput:
			out = append(out, rasterNames(n)...)
		case ProofOutput:
			out = append(out, ProofFile)
		case SheetOutput:
			out = append(out, SheetFile)
		case ClientOutput:
			out = append(out, ClientFile)
		case CalendarOutput:
			out = append(out, CalendarFile)
		case PlacementOutput:
			out = append(out, PlacementTextFile, PlacementJSONFile)
		}
	}
	return out
}

// rasterNames are the whole rasters, then those of each section.
func rasterNames(n export.Note) []string {
	out := []string{RasterFile}
	if len(n.Steps) > 0 {
		out = nil
	}
	for i := range n.Steps {
		out = append(out, StepFile(i))
	}
	for _, s := range n.Sections {
		if len(n.Steps) == 0 {
			out = append(out, SectionFile(s.Number))
		}
		for i := range n.Steps {
			out = append(out, sectionStepFile(i, s.Number))
		}
	}
	return out
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
