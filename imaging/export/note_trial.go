package export

import (
	"fmt"

	"undercoat/layout"
)

// NoteTrial is what a trial piece shows of the panel.
type NoteTrial struct {
	Centre layout.Point `json:"centre_on_the_panel_mm"`
	Size   layout.Size  `json:"size_mm"`
	Why    string       `json:"why"`
	// Marks stand in the raster's corners, to read a photograph by.
	MarkSide         layout.MM   `json:"mark_side_mm,omitempty"`
	MarkPowerPercent float64     `json:"mark_power_percent,omitempty"`
	Pieces           []NotePiece `json:"pieces"` // from left to right on the scrap
}

// NotePiece is one piece of a trial. Places are from the scrap's centre.
type NotePiece struct {
	Number       int             `json:"number"`
	PowerPercent float64         `json:"power_percent"`
	File         string          `json:"file,omitempty"` // where it is one raster
	Centre       layout.Point    `json:"centre_mm"`
	Corners      [4]layout.Point `json:"corners_mm"`
}

// trialText is what is tried.
func (n Note) trialText(p *page) {
	if n.Trial == nil {
		return
	}
	t := n.Trial
	p.head("TRIAL PIECE (the panel of this note is a scrap, painted like the panel itself)")
	p.item("shows", fmt.Sprintf("%s of the picture, about %s, %s of the panel", p.unit.FormatSize(t.Size), p.signed(t.Centre.X), p.signed(t.Centre.Y)))
	p.item("chosen for", t.Why)
	if t.MarkSide > 0 {
		p.item("marks", fmt.Sprintf("%s a side in the four corners, burned at %.4g %%: take a photograph that shows all four", p.unit.Format(t.MarkSide), t.MarkPowerPercent))
	}
	for _, piece := range t.Pieces {
		p.item(fmt.Sprintf("piece %d", piece.Number), fmt.Sprintf("%.4g %%, centre at x %s, y %s", piece.PowerPercent, p.signed(piece.Centre.X), p.signed(piece.Centre.Y)))
	}
}
