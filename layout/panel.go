package layout

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// PanelKind says what a panel is made of.
type PanelKind string

// The kinds of panel.
const (
	Canvas PanelKind = "canvas"
	Tile   PanelKind = "tile"
	Board  PanelKind = "board"
)

// Panel is the thing that is painted. EdgeDepth is how deep it is from front to
// back: a canvas wraps round its bars, a tile or board shows its cut.
type Panel struct {
	Kind      PanelKind
	Size      Size
	EdgeDepth MM
}

// Validate refuses an unknown kind, and lengths outside 0..MaxLength; only the
// depth may be 0.
func (p Panel) Validate() error {
	switch p.Kind {
	case Canvas, Tile, Board:
	default:
		return fmt.Errorf("panel kind %q is unknown: choose canvas, tile or board", shortened(string(p.Kind)))
	}
	if err := p.Size.Validate(); err != nil {
		return fmt.Errorf("panel: %w", err)
	}
	if !(p.EdgeDepth >= 0 && p.EdgeDepth <= MaxLength) {
		return fmt.Errorf("panel edge depth %s is not possible: choose a depth from 0 to 10000 mm", Millimetre.Format(p.EdgeDepth))
	}
	return nil
}

// panelFile is a panel as it stands in files.
type panelFile struct {
	Kind      PanelKind `json:"kind"`
	Width     MM        `json:"width_mm"`
	Height    MM        `json:"height_mm"`
	EdgeDepth MM        `json:"edge_depth_mm"`
}

// MarshalJSON writes kind, width_mm, height_mm and edge_depth_mm.
func (p Panel) MarshalJSON() ([]byte, error) {
	return json.Marshal(panelFile{p.Kind, p.Size.W, p.Size.H, p.EdgeDepth})
}

// UnmarshalJSON reads what MarshalJSON writes and refuses unknown fields. It does
// not call Validate, so that the caller can say where in a file a value stands.
func (p *Panel) UnmarshalJSON(data []byte) error {
	var file panelFile
	strict := json.NewDecoder(bytes.NewReader(data))
	strict.DisallowUnknownFields()
	if err := strict.Decode(&file); err != nil {
		return fmt.Errorf("panel: %w", err)
	}
	*p = Panel{Kind: file.Kind, Size: Size{file.Width, file.Height}, EdgeDepth: file.EdgeDepth}
	return nil
}
