package export

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

// Uncalibrated is said wherever a look or a depth of a stack without a fitted
// curve is shown or written.
const Uncalibrated = "uncalibrated, colours and depth are a guess"

// Note is the placement note: where a raster goes on its panel, and what else a
// maker needs beside the machine. Its JSON is the file placement.json, lengths
// in mm, places from the panel's centre with x to the right and y up.
type Note struct {
	Kind    string `json:"kind"` // "undercoat-placement"
	Version int    `json:"version"`
	Job     string `json:"job,omitempty"`
	Machine string `json:"machine,omitempty"`
	Stack   string `json:"stack,omitempty"`

	PanelKind   layout.PanelKind `json:"panel_kind,omitempty"`
	Panel       layout.Size      `json:"panel_mm"`
	EdgeDepth   layout.MM        `json:"edge_depth_mm"`
	Border      layout.Border    `json:"border_mm"`      // as asked
	BorderTrue  layout.Border    `json:"border_true_mm"` // beside the raster's whole dots
	RasterBits  int              `json:"raster_bits"`    // a dot: 1, or 8 where greys are shares of the power
	RasterDots  [2]int           `json:"raster_dots"`    // columns, rows
	Pitch       layout.MM        `json:"pitch_mm"`
	DotsPerInch float64          `json:"dots_per_inch"`
	PerMetre    int              `json:"dots_per_metre"` // as written in the raster's file
	Size        layout.Size      `json:"size_mm"`        // true, after rounding to whole dots
	Centre      layout.Point     `json:"centre_mm"`
	Corners     [4]layout.Point  `json:"corners_mm"` // upper left, upper right, lower right, lower left

	RunUp  layout.MM   `json:"run_up_mm"`
	Travel layout.Size `json:"travel_mm"` // of the head, run-up at both ends of the lines included
	Bed    layout.Bed  `json:"bed_mm"`
	Fits   bool        `json:"fits"`    // in one go
	WhyNot string      `json:"why_not"` // and what would help; empty if it fits
	Fit    NoteFit     `json:"fit"`

	Sections []NoteSection `json:"sections,omitempty"` // parts that are burned one after another
	Seams    []NoteSeam    `json:"seams,omitempty"`    // between them
	Walk     []NoteStop    `json:"walk"`               // round the outline, before the burn
	Slips    []NoteSlip    `json:"slips,omitempty"`    // what a panel laid down askew would look like

	Even *NoteEven `json:"even_border,omitempty"`

	Setting    burn.Setting `json:"setting"`
	Steps      []NoteStep   `json:"steps,omitempty"` // rasters burned one after another, each at its own power
	BurnTimeS  float64      `json:"burn_time_s"`     // all steps and passes
	Motion     NoteMotion   `json:"motion"`          // what the burn time is worked out from
	Calibrated bool         `json:"calibrated"`
	Notice     string       `json:"notice,omitempty"` // JSON fills it in from Calibrated

	Trial     *NoteTrial     `json:"trial,omitempty"` // where the note is that of a trial piece
	Picture   *NotePicture   `json:"picture,omitempty"`
	Painting  *NotePainting  `json:"painting,omitempty"`
	Timetable *NoteTimetable `json:"timetable,omitempty"`
	After     []NoteAfter    `json:"after,omitempty"`
	Price     *NotePrice     `json:"price,omitempty"`

	Files    []Entry  `json:"files"`
	Cautions []string `json:"cautions"`
}

// NoteStep is one of several rasters that are burned one after another.
type NoteStep struct {
	File         string  `json:"file"`
	PowerPercent float64 `json:"power_percent"` // in place of the setting's
	DoseJCM2     float64 `json:"dose_j_per_cm2"`
	Uncovers     string  `json:"uncovers"` // the coat, or the ground, that it is to lay bare
}

// NewNote is the note of a placed raster on a machine with this reach, and of how
// it fits: everything that follows from lengths, and the standing cautions. The
// caller fills in the names, Setting, BurnTimeS, Motion, Calibrated and Files, and
// adds the job's own cautions with [Note.Caution].
func NewNote(p layout.Placement, reach layout.Reach, fit layout.Fit) Note {
	travel := HeadTravel(p, reach, fit)
	n := Note{
		Kind: "undercoat-placement", Version: 1,
		PanelKind:   p.Panel.Kind,
		Panel:       RoundedSize(p.Panel.Size),
		EdgeDepth:   round(p.Panel.EdgeDepth),
		Border:      roundBorder(p.Border),
		BorderTrue:  roundBorder(p.Left),
		RasterBits:  1,
		RasterDots:  [2]int{p.Grid.Cols, p.Grid.Rows},
		Pitch:       p.Grid.Pitch,
		DotsPerInch: math.Round(layout.DPI(p.Grid.Pitch)*1e4) / 1e4,
		PerMetre:    DotsPerMetre(p.Grid.Pitch),
		Size:        RoundedSize(p.Grid.Size()),
		Centre:      Rounded(p.Centre),
		Corners:     RoundedCorners(p.Corners),
		RunUp:       round(reach.RunUp),
		Travel:      RoundedSize(travel),
		Bed:         RoundedSize(reach.Bed),
		Fits:        InOneGo(fit),
		WhyNot:      WhyNotInOneGo(fit, travel, reach.Bed),
		Fit:         newFit(fit),
		Walk:        newWalk(p),
		Slips:       newSlips(p),
		Even:        newEven(p),
		Cautions:    Cautions(),
	}
	if fit.How == layout.InSections {
		for _, s := range fit.Sections {
			n.Sections = append(n.Sections, newSection(s))
		}
	}
	return n
}

// Caution adds the job's own cautions. They go ahead of the standing ones, the
// last of which defers to others and stays last.
func (n *Note) Caution(texts ...string) {
	n.Cautions = slices.Concat(texts, n.Cautions)
}

// BurnTime is BurnTimeS as a duration.
func (n Note) BurnTime() time.Duration {
	return time.Duration(math.Round(n.BurnTimeS * float64(time.Second)))
}

// JSON is the file placement.json: indented, ending in a newline, the same bytes
// for the same note. It fails on a length that is not a number.
func (n Note) JSON() ([]byte, error) {
	n.Notice = ""
	if !n.Calibrated {
		n.Notice = Uncalibrated
	}
	if n.Files == nil {
		n.Files = []Entry{}
	}
	if n.Cautions == nil {
		n.Cautions = []string{}
	}
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(n); err != nil {
		return nil, fmt.Errorf("placement note: %w", err)
	}
	return out.Bytes(), nil
}

// round drops what binary fractions add: a millionth of a millimetre is far
// below anything a machine can do. Adding 0 turns a negative zero into zero.
func round(l layout.MM) layout.MM { return layout.MM(math.Round(float64(l)*1e6)/1e6) + 0 }

// Rounded is a place to a millionth of a millimetre, as notes hold it; so are
// RoundedSize and RoundedCorners.
func Rounded(p layout.Point) layout.Point { return layout.Point{X: round(p.X), Y: round(p.Y)} }

// RoundedSize is a size as notes hold it.
func RoundedSize(s layout.Size) layout.Size { return layout.Size{W: round(s.W), H: round(s.H)} }

// RoundedCorners are corners as notes hold them.
func RoundedCorners(c [4]layout.Point) [4]layout.Point {
	for i := range c {
		c[i] = Rounded(c[i])
	}
	return c
}

func roundBorder(b layout.Border) layout.Border {
	return layout.Border{Left: round(b.Left), Right: round(b.Right), Top: round(b.Top), Bottom: round(b.Bottom)}
}
