package export

import (
	"fmt"

	"undercoat/layout"
)

// NoteSection is a part of the panel that is burned in one go: a placement note of
// its own. Places are from the centre of the whole panel.
type NoteSection struct {
	Number     int             `json:"number"`
	File       string          `json:"file,omitempty"`  // its raster
	Files      []string        `json:"files,omitempty"` // or those of its steps, in their order
	Rows       [2]int          `json:"rows"`            // of the whole raster: from the first, up to but not the second
	Cols       [2]int          `json:"cols"`
	RasterDots [2]int          `json:"raster_dots"`
	Size       layout.Size     `json:"size_mm"`
	Centre     layout.Point    `json:"centre_mm"`
	Corners    [4]layout.Point `json:"corners_mm"` // upper left, upper right, lower right, lower left
	BorderTrue layout.Border   `json:"border_true_mm"`
	Marks      [2]NoteMark     `json:"marks"`
	Move       *NoteMove       `json:"move,omitempty"` // from the section before
}

// NoteMark is a pencil mark on the panel's rim, level with a section's centre.
type NoteMark struct {
	Side       layout.Side  `json:"side"`
	At         layout.Point `json:"at_mm"`
	FromCentre layout.MM    `json:"from_middle_mm"` // of the side, up or to the right above 0
	FromEnd    layout.MM    `json:"from_end_mm"`    // the top or the left one
	Words      string       `json:"words"`
}

// NoteMove is how the panel is moved along before a section.
type NoteMove struct {
	By    layout.MM   `json:"by_mm"`
	Lead  layout.Side `json:"leading_end"`
	Words string      `json:"words"`
}

// NoteSeam is where two sections meet, and how much of a misplacement would show.
type NoteSeam struct {
	Between [2]int `json:"between"` // numbers of sections
	// At is where the seam lies, from the panel's centre: up where rows are cut, to
	// the right where columns are.
	At     layout.MM   `json:"at_mm"`
	Burned float64     `json:"burned_share"` // of the dots beside the seam
	Looks  []SeamLooks `json:"misplaced"`
}

// SeamLooks is what a misplacement does to the look along a seam: the mean CIEDE2000
// to the panel as it should be.
type SeamLooks struct {
	Off   layout.MM `json:"off_mm"`
	Apart float64   `json:"apart_de00"`
	Over  float64   `json:"overlapping_de00"`
	Words string    `json:"words"`
}

func newSection(s layout.Section) NoteSection {
	n := NoteSection{
		Number:     s.Number,
		Rows:       [2]int{s.Rows.From, s.Rows.To},
		Cols:       [2]int{s.Cols.From, s.Cols.To},
		RasterDots: [2]int{s.Grid.Cols, s.Grid.Rows},
		Size:       RoundedSize(s.Grid.Size()),
		Centre:     Rounded(s.Centre),
		Corners:    RoundedCorners(s.Corners),
		BorderTrue: roundBorder(s.Left),
	}
	for i, m := range s.Marks {
		n.Marks[i] = NoteMark{m.Side, Rounded(m.At), round(m.FromCentre), round(m.FromEnd), m.String()}
	}
	if s.Move.By != 0 {
		n.Move = &NoteMove{round(s.Move.By), s.Move.Lead, s.Move.String()}
	}
	return n
}

// Names are the rasters of a section in the order in which they are burned.
func (s NoteSection) Names() []string {
	if s.File != "" {
		return []string{s.File}
	}
	return s.Files
}

// In says in unit u where a mark is drawn.
func (m NoteMark) In(u layout.Unit) string {
	end, where := "top", "above"
	if m.Side == layout.TopSide || m.Side == layout.BottomSide {
		end, where = "left", "right of"
	}
	by := m.FromCentre
	if by == 0 {
		return fmt.Sprintf("on the %s side, %s from the %s end (in the middle)", m.Side, u.Format(m.FromEnd), end)
	}
	if by < 0 {
		by = -by
		where = map[string]string{"above": "below", "right of": "left of"}[where]
	}
	return fmt.Sprintf("on the %s side, %s from the %s end (%s %s the middle)", m.Side, u.Format(m.FromEnd), end, u.Format(by), where)
}

// In says in unit u how the panel is moved.
func (m NoteMove) In(u layout.Unit) string {
	return fmt.Sprintf("move the panel %s, %s end first", u.Format(m.By), m.Lead)
}
