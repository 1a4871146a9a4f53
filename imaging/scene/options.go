package scene

import (
	"errors"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/layout"
)

// Kind is a room.
type Kind string

// The rooms. What stands in them has sizes that people know.
const (
	Living  Kind = "living room" // over a console table 900 mm wide and 780 mm high
	Hallway Kind = "hallway"     // beside a door whose leaf is 2000 mm high
	Studio  Kind = "studio"      // over a workbench 1500 mm wide and 900 mm high
)

// Kinds are the rooms there are, the first to be shown first.
func Kinds() []Kind { return []Kind{Living, Hallway, Studio} }

// Options are what hangs, and where.
type Options struct {
	Kind Kind          // of Render
	Wall colour.Stored // the wall's paint, of Render

	Panel      *image.RGBA // the proof of the whole panel, border included
	PanelMM    layout.Size
	EdgeMM     layout.MM     // how far the panel stands out from the wall
	EdgeColour colour.Stored // of its wrapped edge: the top coat
	// Finish adds the soft light that a satin or gloss coat throws back; what a
	// finish does to the colours is the proof's part.
	Finish coat.Finish
}

// What can be rendered, in pixels.
const (
	minSide   = 16
	maxSide   = 8192
	maxPhoto  = 100_000_000
	maxEdgeMM = 500
)

// shapeTolerance is how far a proof's shape may be from its panel's, as a share,
// beyond the one pixel that it was rounded by.
const shapeTolerance = 0.02

func (o Options) validate() error {
	if o.Panel == nil || o.Panel.Rect.Empty() {
		return errors.New("the panel's proof is empty: make a proof of the whole panel first")
	}
	if err := o.PanelMM.Validate(); err != nil {
		return fmt.Errorf("panel: %w", err)
	}
	if !(o.EdgeMM >= 0 && o.EdgeMM <= maxEdgeMM) {
		return fmt.Errorf("edge depth %s is not possible: choose one from 0 to %d mm", layout.Millimetre.Format(o.EdgeMM), maxEdgeMM)
	}
	if _, err := sheen(o.Finish); err != nil {
		return err
	}
	w, h := float64(o.Panel.Rect.Dx()), float64(o.Panel.Rect.Dy())
	should := w / o.PanelMM.Aspect()
	if off := math.Abs(h - should); off > 1+shapeTolerance*should && math.Abs(w-h*o.PanelMM.Aspect()) > 1+shapeTolerance*w {
		return fmt.Errorf("proof of %g x %g pixels has not the shape of a panel of %s: make a proof of the whole panel", w, h, layout.Millimetre.FormatSize(o.PanelMM))
	}
	return nil
}

func validateView(w, h int) error {
	if w < minSide || h < minSide || w > maxSide || h > maxSide {
		return fmt.Errorf("view of %d x %d pixels is not possible: choose sides from %d to %d pixels", w, h, minSide, maxSide)
	}
	return nil
}

func (k Kind) validate() error {
	for _, known := range Kinds() {
		if k == known {
			return nil
		}
	}
	return fmt.Errorf("room %q is unknown: choose living room, hallway or studio", string(k))
}
