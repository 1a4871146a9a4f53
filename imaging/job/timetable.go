package job

import (
	"fmt"
	"strings"
	"time"
	"unicode"

	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/layout"
)

// Workshop is what a hand-off needs to know beyond the job itself. The zero value
// takes what is usual.
type Workshop struct {
	Start  time.Time     // of the painting; zero: no timetable and no calendar
	Habits layout.Habits // how long the steps take
	Can    layout.Can    // how far a can goes
	Rights string        // who holds the rights in the picture, and its source
	Rates  *export.Rates // what the maker charges; nil: no price
	Letter bool          // sheets on Letter paper, not on A4
}

// maxRightsBytes keeps the words about the picture to a few lines.
const maxRightsBytes = 400

// Validate names what cannot be, all but the times and the cans: a timetable tells of
// those.
func (w Workshop) Validate() error {
	if len(w.Rights) > maxRightsBytes || strings.ContainsFunc(w.Rights, unicode.IsControl) {
		return fmt.Errorf("the words about the picture's rights are %d bytes long or hold line breaks: write one line of at most %d", len(w.Rights), maxRightsBytes)
	}
	if !w.Start.IsZero() && (w.Start.Year() < 2000 || w.Start.Year() > 2200) {
		return fmt.Errorf("start %s is not possible: choose a day from 2000 to 2200", w.Start.Format("2006-01-02"))
	}
	if w.Rates != nil {
		return w.Rates.Validate()
	}
	return nil
}

// startForms are the ways in which a start may be written.
var startForms = []string{StartForm, "2006-01-02T15:04"}

// StartForm is how a start is written.
const StartForm = "2006-01-02 15:04"

// ParseStart reads a day and a time of the maker's own clock.
func ParseStart(text string) (time.Time, error) {
	for _, form := range startForms {
		if start, err := time.Parse(form, strings.TrimSpace(text)); err == nil {
			return start, nil
		}
	}
	return time.Time{}, fmt.Errorf("start %q is not a day and a time: write, for instance, \"2026-05-01 09:00\"", text)
}

// coats is the stack as it is painted.
func (w Workshop) coats(s coat.Stack) []layout.CoatWork {
	out := make([]layout.CoatWork, len(s.Coats))
	for i, c := range s.Coats {
		out[i] = layout.CoatWork{Name: c.Name, ThicknessUM: c.ThicknessUM, Can: w.Can}
	}
	return out
}

// fillIn adds to a note what it says about paint, time, the picture and the price.
// It gives the timetable, where there is a start. The note's burn time must stand.
func (w Workshop) fillIn(n *export.Note, d Document) (*layout.Timetable, error) {
	if err := w.Validate(); err != nil {
		return nil, err
	}
	coats := w.coats(d.Stack)
	needs, err := d.Panel.Needs(coats)
	if err != nil {
		return nil, err
	}
	painted := make([]export.NoteCoat, len(coats))
	for i, c := range d.Stack.Coats {
		painted[i] = export.NoteCoat{Name: c.Name, Colour: c.Colour, ThicknessUM: c.ThicknessUM}
	}
	n.Painting = export.NewPainting(d.Panel, painted, needs, w.Can)
	clear := d.Finish != coat.Bare
	n.After = export.NewAfter(d.Panel.Kind, clear)
	if d.HasPicture() {
		n.Picture = &export.NotePicture{File: d.Picture.Name, SHA256: d.Picture.SHA256, Rights: w.Rights}
	}
	plan := layout.Plan{Panel: d.Panel, Coats: coats, Start: w.Start, Burn: n.BurnTime(), Clear: clear, Habits: w.Habits}
	if err := w.price(n, plan); err != nil || w.Start.IsZero() {
		return nil, err
	}
	table, err := plan.Timetable()
	if err != nil {
		return nil, err
	}
	n.Timetable = export.NewTimetable(w.Start, table)
	return &table, nil
}

// price works out what the panel costs.
func (w Workshop) price(n *export.Note, plan layout.Plan) error {
	if w.Rates == nil {
		return nil
	}
	if plan.Start.IsZero() {
		plan.Start = time.Date(2000, time.January, 3, 9, 0, 0, 0, time.UTC) // any day: only durations count
	}
	table, err := plan.Timetable()
	if err != nil {
		return err
	}
	work := export.Work{MachineHours: plan.Burn.Hours(), HandHours: handHours(table, plan.Burn)}
	for _, c := range n.Painting.Coats {
		work.Cans += c.Cans
	}
	n.Price, err = w.Rates.Price(work)
	return err
}

// handHours is the time in which somebody's hands are at work: the burn itself is
// watched and not worked at, but for laying down the panel.
func handHours(t layout.Timetable, burn time.Duration) float64 {
	var sum time.Duration
	for _, s := range t.Steps {
		if s.What.Hands() {
			sum += s.Duration
		}
	}
	return (sum - burn).Hours()
}
