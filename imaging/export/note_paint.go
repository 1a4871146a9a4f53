package export

import (
	"encoding/json"
	"time"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

// NotePicture is whose picture is burned.
type NotePicture struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
	Rights string `json:"rights"` // as the maker put it; empty: to be filled in by hand
}

// NotePainting is what the painting takes.
type NotePainting struct {
	FaceM2   float64    `json:"face_m2"`
	EdgeM2   float64    `json:"edge_m2"`
	AreaM2   float64    `json:"area_m2"`
	CanM2    float64    `json:"can_covers_m2"` // one coat, nothing lost
	LostPart float64    `json:"lost_share"`
	Coats    []NoteCoat `json:"coats"` // from the top down; painted from the last to the first
	Words    string     `json:"words"`
}

// NoteCoat is one coat of paint.
type NoteCoat struct {
	Name        string        `json:"name"`
	Colour      colour.Stored `json:"colour"`
	ThicknessUM float64       `json:"thickness_um"`
	Cans        float64       `json:"cans"`
	ToBuy       int           `json:"cans_to_buy"` // 0 where a coat of the same paint above has them
}

// paintWords says where the figures of a painting come from.
const paintWords = "Cans by what sellers of spray paint say of spread and loss: common practice, no source. What the can itself says comes first."

// NewPainting is what painting a panel takes. needs are those of coats, in the
// same order.
func NewPainting(p layout.Panel, coats []NoteCoat, needs []layout.Need, can layout.Can) *NotePainting {
	if can.CoversM2 == 0 {
		can.CoversM2 = layout.UsualCanM2
	}
	if can.Lost == 0 {
		can.Lost = layout.UsualLoss
	}
	area := p.Painted()
	n := &NotePainting{
		FaceM2: roundTo(area.FaceM2, 4), EdgeM2: roundTo(area.EdgeM2, 4), AreaM2: roundTo(area.TotalM2(), 4),
		CanM2: roundTo(can.CoversM2, 3), LostPart: roundTo(can.Lost, 3), Words: paintWords,
	}
	for i, c := range coats {
		c.Cans, c.ToBuy = roundTo(needs[i].Cans, 2), needs[i].ToBuy
		n.Coats = append(n.Coats, c)
	}
	return n
}

// NoteTimetable is when to do what, in the maker's own time.
type NoteTimetable struct {
	Start    Moment     `json:"start"`
	CanBurn  Moment     `json:"can_burn"`
	BurnEnds Moment     `json:"burn_ends"`
	CanHang  Moment     `json:"can_hang"`
	Steps    []NoteTime `json:"steps"`
	Cautions []string   `json:"cautions"`
}

// NoteTime is a step of a timetable.
type NoteTime struct {
	Start Moment      `json:"start"`
	End   Moment      `json:"end"`
	What  layout.What `json:"what"`
	Coat  string      `json:"coat,omitempty"`
}

// String says what is done.
func (t NoteTime) String() string {
	return layout.Step{What: t.What, Coat: t.Coat}.String()
}

// Moment is a time of day on a day, without a zone: what the maker's clock shows.
// In files it is 2026-05-01T09:00.
type Moment struct{ time.Time }

const momentForm = "2006-01-02T15:04"

// MarshalJSON writes it to the minute.
func (m Moment) MarshalJSON() ([]byte, error) { return json.Marshal(m.Format(momentForm)) }

// UnmarshalJSON reads it.
func (m *Moment) UnmarshalJSON(data []byte) error {
	var text string
	err := json.Unmarshal(data, &text)
	if err == nil {
		m.Time, err = time.Parse(momentForm, text)
	}
	return err
}

// moment drops zone and seconds.
func moment(t time.Time) Moment {
	return Moment{time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), 0, 0, time.UTC)}
}

// NewTimetable is a timetable that began at start.
func NewTimetable(start time.Time, t layout.Timetable) *NoteTimetable {
	n := &NoteTimetable{
		Start: moment(start), CanBurn: moment(t.CanBurn), BurnEnds: moment(t.BurnEnds), CanHang: moment(t.CanHang),
		Cautions: t.Cautions,
	}
	for _, s := range t.Steps {
		n.Steps = append(n.Steps, NoteTime{moment(s.Start), moment(s.End()), s.What, s.Coat})
	}
	return n
}

// NoteAfter is something to be done after the burn.
type NoteAfter struct {
	What     layout.What `json:"what"`
	Cautions []string    `json:"cautions,omitempty"`
}

// NewAfter is what comes after the burn of a panel, with or without a clear coat.
func NewAfter(kind layout.PanelKind, clear bool) []NoteAfter {
	var out []NoteAfter
	for _, s := range layout.After(kind, clear) {
		if s.What != layout.ClearDry {
			out = append(out, NoteAfter{s.What, s.Cautions})
		}
	}
	return out
}
