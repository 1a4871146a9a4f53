package beam

import (
	"fmt"

	"undercoat/imaging/burn"
	"undercoat/imaging/swatch"
)

// ReadLinesFit is what the readings of a line chart tell.
type ReadLinesFit struct {
	LineFit         // its threshold is of the power above the machine's offset
	Offset  float64 // power in percent up to which the machine gives no light
	Lines   int     // that were measured
	LeftOut int
}

// ThresholdPower is the power in percent at which a line begins to show.
func (f ReadLinesFit) ThresholdPower() float64 { return f.Offset + f.Threshold }

// FromLineReadings is FromLines for the readings of a line chart. The machine is for
// readings that name none; it may be nil, and then power counts from 0.
func FromLineReadings(r swatch.Readings, m *burn.Machine) (ReadLinesFit, error) {
	if r.Machine != nil {
		m = r.Machine
	}
	var f ReadLinesFit
	if m != nil {
		f.Offset = m.PowerOffsetPercent
	}
	var lines []Line
	var first swatch.Reading
	for _, s := range r.Swatches {
		if s.LeftOut != "" {
			f.LeftOut++
		}
		if !s.IsLine() {
			continue
		}
		if len(lines) == 0 {
			first = s
		}
		if a, b := s.Setting, first.Setting; a.Speed != b.Speed || a.Passes != b.Passes {
			return f, fmt.Errorf("lines %s and %s were burned at different speeds or passes: lines compare powers alone", first.ID, s.ID)
		}
		if s.Setting.PowerPercent <= f.Offset {
			return f, fmt.Errorf("line %s was burned at %g %%, where the machine gives no light: name the machine that burned it", s.ID, s.Setting.PowerPercent)
		}
		lines = append(lines, Line{Level: s.Setting.PowerPercent - f.Offset, Width: s.Width})
	}
	f.Lines = len(lines)
	var err error
	f.LineFit, err = FromLines(lines)
	return f, err
}
