package job_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
)

func TestStartMakesATimetableAndACalendar(t *testing.T) {
	j := uneven(t)
	j.Document.Finish = coat.Satin
	dir := filepath.Join(t.TempDir(), "out")
	start := time.Date(2026, time.May, 1, 9, 0, 0, 0, time.UTC)
	rates := export.Rates{Currency: "EUR", Can: 10, MachineHour: 6, HandHour: 24}
	h, err := job.Prepare(t.Context(), j, job.Request{Dir: dir, Workshop: job.Workshop{Start: start, Rates: &rates, Rights: "own photograph"}})
	require.NoError(t, err)
	for _, name := range []string{job.SheetFile, job.ClientFile, job.CalendarFile} {
		require.FileExists(t, filepath.Join(dir, name))
	}
	n := h.Note
	require.Equal(t, start, n.Timetable.Start.Time)
	require.Equal(t, "own photograph", n.Picture.Rights)
	// Three coats: edges, two passes, 5 min each; 30 min between them; a day of curing;
	// a quarter of an hour to set up.
	require.Equal(t, start.Add(3*15*time.Minute+2*30*time.Minute+24*time.Hour), n.Timetable.CanBurn.Time)
	burning := n.Timetable.BurnEnds.Sub(n.Timetable.CanBurn.Time)
	require.InDelta(t, n.BurnTime().Minutes()+15, burning.Minutes(), 1)

	text, err := os.ReadFile(filepath.Join(dir, job.CalendarFile))
	require.NoError(t, err)
	cal, err := ics.ParseCalendar(strings.NewReader(string(text)))
	require.NoError(t, err)
	require.Len(t, cal.Events(), len(n.Timetable.Steps))

	// By hand: cans by area; the machine's hours; 3 x 15 min of spraying, 15 min to set up,
	// 5 min to wipe a board, 10 + 10 min of clear coat, 10 min of edges, 10 min to hang.
	hours := math.Round((45+15+5+10+10+10+10)/60.0*100) / 100
	machine := math.Round(n.BurnTime().Hours()*100) / 100
	cans := 0.0
	for _, c := range n.Painting.Coats {
		cans += c.Cans
	}
	require.InDelta(t, cans*10+machine*6+hours*24, n.Price.Total, 0.02)
}

func TestPaintingOfAPanel(t *testing.T) {
	j := uneven(t)
	_, h := prepared(t, j, job.PlacementOutput)
	p := h.Note.Painting
	d := j.Document
	require.InDelta(t, float64(d.Panel.Size.W*d.Panel.Size.H)/1e6, p.FaceM2, 1e-4)
	require.Len(t, p.Coats, len(d.Stack.Coats))
	for i, c := range p.Coats {
		require.Equal(t, d.Stack.Coats[i].Name, c.Name)
		require.InDelta(t, p.AreaM2/(p.CanM2*(1-p.LostPart)), c.Cans, 0.006)
	}
	require.Nil(t, h.Note.Timetable)
	require.Nil(t, h.Note.Price)
}

func TestWorkshopsThatAreRefused(t *testing.T) {
	ask := func(w job.Workshop, only ...job.Output) error {
		dir := filepath.Join(t.TempDir(), "no")
		_, err := job.Prepare(t.Context(), uneven(t), job.Request{Dir: dir, Only: only, Workshop: w})
		require.NoDirExists(t, dir)
		return err
	}
	negative := export.Rates{Currency: "EUR", Can: -1}
	for want, err := range map[string]error{
		"a calendar needs the day":            ask(job.Workshop{}, job.CalendarOutput),
		"write one line of at most 400":       ask(job.Workshop{Rights: strings.Repeat("x", 500)}),
		"hold line breaks":                    ask(job.Workshop{Rights: "a\nb"}),
		"choose a day from 2000 to 2200":      ask(job.Workshop{Start: time.Date(1999, 1, 1, 0, 0, 0, 0, time.UTC)}),
		"can is -1: give 0 to 1e+06":          ask(job.Workshop{Rates: &negative}),
		"can covers -1 is not possible":       ask(job.Workshop{Can: layout.Can{CoversM2: -1}}),
		"loss 2 is not possible":              ask(job.Workshop{Can: layout.Can{Lost: 2}}),
		`drying "sun" is unknown`:             ask(job.Workshop{Start: time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC), Habits: layout.Habits{Drying: "sun"}}),
		"can's thickness NaN is not possible": ask(job.Workshop{Can: layout.Can{AtUM: math.NaN()}}),
	} {
		require.ErrorContains(t, err, want)
	}
}
