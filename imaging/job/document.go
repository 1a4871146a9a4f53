package job

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/screen"
	"undercoat/imaging/strict"
	"undercoat/layout"
)

// Kind and Version mark the documents that this program writes.
const (
	Kind    = "undercoat-job"
	Version = 2
)

// Document is everything a job consists of, but for the bytes of its picture and
// of the maker's own fonts.
// It is a plain value: a copy made by [Document.Clone] shares nothing.
type Document struct {
	Kind    string        `json:"kind"`
	Version int           `json:"version"`
	Name    string        `json:"name"`
	Unit    string        `json:"unit"` // "mm", "cm" or "in": what lengths are shown in
	Panel   layout.Panel  `json:"panel"`
	Border  layout.Border `json:"border_mm"`
	Picture Picture       `json:"picture"`
	// Lettering lies over the picture, or stands alone; later lines over earlier ones.
	Lettering []lettering.Line `json:"lettering,omitempty"`
	Fonts     []FontFile       `json:"fonts,omitempty"` // the maker's own, kept in the job
	Stack     coat.Stack       `json:"stack"`
	Finish    coat.Finish      `json:"finish,omitempty"` // clear coat
	Machine   burn.Machine     `json:"machine"`
	Setting   burn.Setting     `json:"setting"`
	Match     Match            `json:"match"`
	Screen    Screen           `json:"screen"`
	// Finished are the panels that this job was burned into, in their order.
	Finished []Finished `json:"finished,omitempty"`
}

// Picture is what is done to the picture before it becomes tints. Without a
// checksum there is no picture.
type Picture struct {
	Name         string      `json:"name"`   // the file it came from, for people
	SHA256       string      `json:"sha256"` // of its bytes, in hex
	Crop         layout.Crop `json:"crop"`   // in pixels of the straightened picture
	QuarterTurns int         `json:"quarter_turns"`
	Mirror       bool        `json:"mirror"`
	// The turned picture is straightened by an angle, clockwise, or by four corners in
	// its pixels: upper left, upper right, lower right, lower left. Not by both.
	StraightenDegrees float64                 `json:"straighten_degrees,omitzero"`
	Corners           *[4]layout.PicturePoint `json:"corners,omitempty"`
	UnderClear        colour.Stored           `json:"under_transparency"`
	Mix               picture.Mix             `json:"grey_mix,omitzero"`
	Tone              picture.Tone            `json:"tone"`
	Fade              picture.Fade            `json:"fade,omitzero"`
	Burns             Burns                   `json:"burns"`
	Tones             Tones                   `json:"tones"`
}

// Burns says which parts of the picture are burned.
type Burns string

const (
	BurnsByStack Burns = "by-stack" // what the stack's colours call for
	BurnsBright  Burns = "bright"
	BurnsDark    Burns = "dark"
)

// Tones says how the picture's light becomes the share of burned dots.
type Tones string

const (
	// TonesEven makes equal steps of lightness in the picture equal steps of
	// lightness on the panel, over the range that the stack can reach.
	TonesEven Tones = "even"
	// TonesLight makes the share of burned dots the share of light.
	TonesLight Tones = "light"
)

// Screen is how tints become dots: the options of [screen.Options] that are the
// maker's to choose.
type Screen struct {
	Kind         screen.Kind `json:"kind"`
	OneWay       bool        `json:"one_way"`
	Plain        bool        `json:"plain,omitempty"`
	MinDot       int         `json:"min_dot,omitempty"`
	MinGap       int         `json:"min_gap,omitempty"`
	Matrix       int         `json:"matrix,omitempty"`
	LinesPerCM   float64     `json:"lines_per_cm,omitempty"`
	AngleDegrees float64     `json:"angle_degrees,omitempty"`
	Spot         screen.Spot `json:"spot,omitempty"`
}

// Turn is the turning of the picture, past what its EXIF orientation asks for.
func (p Picture) Turn() picture.Turn {
	return picture.Turn{Quarters: p.QuarterTurns, Mirror: p.Mirror}
}

// Clone is a copy that shares no memory with d.
func (d Document) Clone() Document {
	d.Stack = d.Stack.Clone()
	d.Lettering, d.Fonts = slices.Clone(d.Lettering), slices.Clone(d.Fonts)
	d.Finished = slices.Clone(d.Finished)
	for i := range d.Finished {
		d.Finished[i].Words = slices.Clone(d.Finished[i].Words)
	}
	if d.Picture.Corners != nil {
		corners := *d.Picture.Corners
		d.Picture.Corners = &corners
	}
	return d
}

// ParseDocument reads a document strictly: unknown fields, wrong types and
// values out of range are refused, with their path.
func ParseDocument(data []byte) (Document, error) {
	var head struct {
		Kind    string `json:"kind"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(data, &head); err == nil {
		if head.Kind != Kind {
			return Document{}, fmt.Errorf("kind is %q where %q is wanted: open an Undercoat job", head.Kind, Kind)
		}
		if head.Version > Version {
			return Document{}, fmt.Errorf("version is %d and this program knows up to %d: open the job with a newer Undercoat", head.Version, Version)
		}
	}
	data, err := migrate(data, head.Version)
	if err != nil {
		return Document{}, err
	}
	var d Document
	if err := strict.Decode(data, &d); err != nil {
		return Document{}, err
	}
	if err := missing(data); err != nil {
		return Document{}, err
	}
	return d, d.Validate()
}

// missing reports the first field that was left out although its zero is a value
// in its own right and would spoil a panel: no border, or black under what is
// transparent.
func missing(data []byte) error {
	var has struct {
		Border  map[string]*float64 `json:"border_mm"`
		Picture struct {
			UnderClear *string `json:"under_transparency"`
		} `json:"picture"`
	}
	if err := json.Unmarshal(data, &has); err != nil {
		return err
	}
	for _, side := range []string{"left", "right", "top", "bottom"} {
		if has.Border[side] == nil {
			return fmt.Errorf("border_mm.%s is missing: write a width, 0 for none", side)
		}
	}
	if has.Picture.UnderClear == nil {
		return errors.New(`picture.under_transparency is missing: write a colour, for instance "#ffffff"`)
	}
	return nil
}

// JSON is the document as it is kept in the job's file; equal documents give
// equal bytes.
func (d Document) JSON() ([]byte, error) {
	data, err := json.MarshalIndent(d, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("writing the job: %w", err)
	}
	return append(data, '\n'), nil
}

// Validate names the first value that is out of range, by its path.
func (d Document) Validate() error {
	if d.Kind != Kind || d.Version != Version {
		return fmt.Errorf("kind %q version %d is not a job of version %d", d.Kind, d.Version, Version)
	}
	if err := nameError(d.Name); err != nil {
		return err
	}
	if _, err := layout.ParseUnit(d.Unit); err != nil {
		return fmt.Errorf("unit: %w", err)
	}
	checks := []struct {
		path string
		err  error
	}{
		{"panel", d.Panel.Validate()},
		{"picture", d.Picture.validate()},
		{"stack", d.Stack.Validate()},
		{"finish", finishError(d.Finish)},
		{"machine", d.Machine.Validate()},
		{"setting", d.Setting.Validate(d.Machine)},
		{"match", d.Match.validate(d.Machine)},
		{"screen", d.Screen.validate(d.Setting.Pitch)},
		{"lettering", d.letteringError()},
		{"finished", d.finishedError()},
	}
	for _, c := range checks {
		if c.err != nil {
			return fmt.Errorf("%s: %w", c.path, c.err)
		}
	}
	_, err := d.Placement()
	return err
}

// maxNameBytes leaves a job's name room to be a file's name.
const maxNameBytes = 200

func nameError(name string) error {
	switch {
	case strings.TrimSpace(name) == "":
		return errors.New("name is empty: give the job a name")
	case len(name) > maxNameBytes:
		return fmt.Errorf("name is %d bytes long: shorten it to %d", len(name), maxNameBytes)
	case strings.ContainsFunc(name, unicode.IsControl):
		return fmt.Errorf("name %q holds a line break or another unseen character: leave it out", name)
	}
	return nil
}

func finishError(f coat.Finish) error {
	_, err := f.Seen(colour.Linear{})
	return err
}

func (s Screen) validate(pitch layout.MM) error {
	if !slices.Contains(screen.Kinds(), s.Kind) {
		var names []string
		for _, k := range screen.Kinds() {
			names = append(names, string(k))
		}
		return fmt.Errorf("kind is %q: choose one of %s", s.Kind, strings.Join(names, ", "))
	}
	return s.options(pitch).Validate()
}

// options is the screen as package screen wants it, but for what the beam does to
// neighbouring dots, which a beam-aware one asks for: see [Document.Recipe].
func (s Screen) options(pitch layout.MM) screen.Options {
	return screen.Options{
		Kind: s.Kind, OneWay: s.OneWay, Plain: s.Plain,
		MinDot: s.MinDot, MinGap: s.MinGap, Matrix: s.Matrix,
		LinesPerCM: s.LinesPerCM, AngleDegrees: s.AngleDegrees, Spot: s.Spot, Pitch: pitch,
	}
}

func (p Picture) validate() error {
	switch {
	case p.QuarterTurns < 0 || p.QuarterTurns > 3:
		return fmt.Errorf("quarter_turns is %d: choose 0 to 3", p.QuarterTurns)
	case p.Burns != BurnsByStack && p.Burns != BurnsBright && p.Burns != BurnsDark:
		return fmt.Errorf("burns is %q: choose by-stack, bright or dark", p.Burns)
	case p.Tones != TonesEven && p.Tones != TonesLight:
		return fmt.Errorf("tones is %q: choose even or light", p.Tones)
	}
	if err := p.straightenError(); err != nil {
		return err
	}
	for _, c := range []struct {
		path string
		err  error
	}{{"grey_mix", p.Mix.Validate()}, {"tone", p.Tone.Validate()}, {"fade", p.Fade.Validate()}} {
		if c.err != nil {
			return fmt.Errorf("%s: %w", c.path, c.err)
		}
	}
	return nil
}

// UnitOf is the unit lengths are shown in; an unknown name reads as millimetres.
func (d Document) UnitOf() layout.Unit {
	u, err := layout.ParseUnit(d.Unit)
	if err != nil {
		return layout.Millimetre
	}
	return u
}
