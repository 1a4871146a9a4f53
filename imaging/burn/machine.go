package burn

import (
	"encoding/json"
	"fmt"
	"math"

	"undercoat/imaging/strict"
	"undercoat/layout"
)

// The kind and version of machine files.
const (
	MachineKind    = "undercoat-machine"
	MachineVersion = 1
)

// Machine is an engraving machine. In files it is an object with kind and
// version, lengths in mm and the top speed in mm/min.
type Machine struct {
	Name                string
	OpticalPowerW       float64   // light at full power, 0.01..1000 W; not the electrical rating
	PowerOffsetPercent  float64   // the setting up to which no light comes, 0..90 %
	BeamAlong           layout.MM // width at the panel along the rows, D4sigma, 0.01..2 mm
	BeamAcross          layout.MM // the same across the rows
	Bed                 layout.Size
	RunUp               layout.MM // 0..200 mm
	AccelerationMMPerS2 float64   // 1..100000 mm/s2
	TopSpeed            layout.MMPerSecond
	PowerPerPixel       bool // takes an eight-bit raster
	SkipsBlank          bool // does not travel blank line ends and blank lines
}

// machineFile is the machine as it stands in files.
type machineFile struct {
	Kind                string      `json:"kind"`
	Version             int         `json:"version"`
	Name                string      `json:"name"`
	OpticalPowerW       float64     `json:"optical_power_w"`
	PowerOffsetPercent  float64     `json:"power_offset_percent"`
	BeamAlong           layout.MM   `json:"beam_width_along_mm"`
	BeamAcross          layout.MM   `json:"beam_width_across_mm"`
	Bed                 layout.Size `json:"bed_mm"`
	RunUp               layout.MM   `json:"run_up_mm"`
	AccelerationMMPerS2 float64     `json:"acceleration_mm_per_s2"`
	TopSpeedMMPerMin    float64     `json:"top_speed_mm_per_min"`
	PowerPerPixel       bool        `json:"power_per_pixel"`
	SkipsBlank          bool        `json:"skips_blank"`
}

// ReadMachine reads a machine file. Fields that it does not know and values out
// of range are refused by name.
func ReadMachine(data []byte) (Machine, error) {
	var m Machine
	if err := m.UnmarshalJSON(data); err != nil {
		return Machine{}, err
	}
	if err := m.Validate(); err != nil {
		return Machine{}, fmt.Errorf("machine: %w", err)
	}
	return m, nil
}

// UnmarshalJSON reads a machine strictly, but leaves ranges to Validate.
func (m *Machine) UnmarshalJSON(data []byte) error {
	var f machineFile
	if err := strict.Decode(data, &f); err != nil {
		return fmt.Errorf("machine: %w", err)
	}
	if f.Kind != MachineKind {
		return fmt.Errorf("machine: kind is %q: choose a file whose kind is %q", f.Kind, MachineKind)
	}
	if f.Version != MachineVersion {
		return fmt.Errorf("machine: version is %d: this program reads version %d, a newer one may read the file", f.Version, MachineVersion)
	}
	if err := complete(data); err != nil {
		return fmt.Errorf("machine: %w", err)
	}
	*m = Machine{
		Name:                f.Name,
		OpticalPowerW:       f.OpticalPowerW,
		PowerOffsetPercent:  f.PowerOffsetPercent,
		BeamAlong:           f.BeamAlong,
		BeamAcross:          f.BeamAcross,
		Bed:                 f.Bed,
		RunUp:               f.RunUp,
		AccelerationMMPerS2: f.AccelerationMMPerS2,
		TopSpeed:            perSecond(f.TopSpeedMMPerMin),
		PowerPerPixel:       f.PowerPerPixel,
		SkipsBlank:          f.SkipsBlank,
	}
	return nil
}

// complete reports the first field that was left out although its zero is a value
// in its own right: no run-up, or a head that travels every line.
func complete(data []byte) error {
	var has map[string]json.RawMessage
	if err := json.Unmarshal(data, &has); err != nil {
		return err
	}
	for _, f := range []struct{ name, next string }{
		{"run_up_mm", "write the travel in mm that the head needs to reach its speed, 0 if none"},
		{"power_offset_percent", "write the power up to which no light comes, 0 if none"},
		{"skips_blank", "write true if the head does not travel over blank line ends, else false"},
		{"power_per_pixel", "write true if the machine takes a power for each dot, else false"},
	} {
		if _, ok := has[f.name]; !ok {
			return fmt.Errorf("%s is missing: %s", f.name, f.next)
		}
	}
	return nil
}

// MarshalJSON writes the machine with kind and version, the fields in a fixed order.
func (m Machine) MarshalJSON() ([]byte, error) {
	return json.Marshal(machineFile{
		Kind:                MachineKind,
		Version:             MachineVersion,
		Name:                m.Name,
		OpticalPowerW:       m.OpticalPowerW,
		PowerOffsetPercent:  m.PowerOffsetPercent,
		BeamAlong:           m.BeamAlong,
		BeamAcross:          m.BeamAcross,
		Bed:                 m.Bed,
		RunUp:               m.RunUp,
		AccelerationMMPerS2: m.AccelerationMMPerS2,
		TopSpeedMMPerMin:    m.TopSpeed.PerMinute(),
		PowerPerPixel:       m.PowerPerPixel,
		SkipsBlank:          m.SkipsBlank,
	})
}

// JSON is the machine as a file of its own. Equal machines give equal bytes.
func (m Machine) JSON() ([]byte, error) {
	if err := m.Validate(); err != nil {
		return nil, fmt.Errorf("machine: %w", err)
	}
	data, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("machine %q: %w", m.Name, err)
	}
	return append(data, '\n'), nil
}

// Validate reports the first value that is out of range, by its name in the file.
// The ranges are wide of hobby machines; they catch a slipped decimal point or a
// wrong unit.
func (m Machine) Validate() error {
	const maxName = 200
	if len(m.Name) > maxName {
		return fmt.Errorf("name is %d bytes long: shorten it to %d", len(m.Name), maxName)
	}
	return strict.Within(
		strict.In("optical_power_w", m.OpticalPowerW, 0.01, 1000, "W of light"),
		strict.In("power_offset_percent", m.PowerOffsetPercent, 0, 90, "%"),
		strict.In("beam_width_along_mm", float64(m.BeamAlong), minBeamMM, maxBeamMM, "mm"),
		strict.In("beam_width_across_mm", float64(m.BeamAcross), minBeamMM, maxBeamMM, "mm"),
		strict.In("bed_mm width", float64(m.Bed.W), 10, float64(layout.MaxLength), "mm"),
		strict.In("bed_mm height", float64(m.Bed.H), 10, float64(layout.MaxLength), "mm"),
		strict.In("run_up_mm", float64(m.RunUp), 0, 200, "mm"),
		strict.In("acceleration_mm_per_s2", m.AccelerationMMPerS2, 1, 100_000, "mm/s2"),
		strict.In("top_speed_mm_per_min", m.TopSpeed.PerMinute(), minSpeedMMPerMin, layout.MaxSpeed.PerMinute(), "mm/min"),
	)
}

// OpticalW is the light in watts at a power setting in percent: none up to the
// offset, from there in a straight line to full power at 100 %.
func (m Machine) OpticalW(powerPercent float64) float64 {
	return m.OpticalPowerW * math.Max(0, powerPercent-m.PowerOffsetPercent) / (100 - m.PowerOffsetPercent)
}

// Motion is how the machine moves when it burns at a speed.
func (m Machine) Motion(speed layout.MMPerSecond) layout.Motion {
	return layout.Motion{
		Speed:               speed,
		AccelerationMMPerS2: m.AccelerationMMPerS2,
		RunUp:               m.RunUp,
		SkipsBlank:          m.SkipsBlank,
	}
}
