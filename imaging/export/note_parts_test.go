package export

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

// sectionNote is a long canvas that is burned in sections, with all that a note can
// hold.
func sectionNote(t *testing.T) Note {
	t.Helper()
	panel := layout.Panel{Kind: layout.Canvas, Size: layout.Size{W: 12 * layout.Inch, H: 36 * layout.Inch}, EdgeDepth: 19}
	pl, err := layout.Place(panel, layout.Even(6), 0.1)
	require.NoError(t, err)
	n := noteOf(t, pl, layout.Bed{W: 400, H: 400})
	n.Job, n.Machine, n.Stack, n.Calibrated = "heron", "starter", "two coats", true
	n.Setting = burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.1, Passes: 1}
	n.Motion = NoteMotion{AccelerationMMPerS2: 500, SkipsBlank: true}
	n.BurnTimeS = 7200
	for i := range n.Sections {
		n.Sections[i].File = "section-" + string(rune('1'+i)) + ".png"
	}
	n.Seams = []NoteSeam{{Between: [2]int{1, 2}, At: 152.4, Burned: 0.25, Looks: []SeamLooks{{Off: 0.1, Apart: 2.5, Over: 3, Words: "seen from near"}}}}
	coats := []NoteCoat{{Name: "graphite", ThicknessUM: 25}, {Name: "cream", ThicknessUM: 30}, {Name: "graphite", ThicknessUM: 20}}
	var work []layout.CoatWork
	for _, c := range coats {
		work = append(work, layout.CoatWork{Name: c.Name, ThicknessUM: c.ThicknessUM})
	}
	needs, err := panel.Needs(work)
	require.NoError(t, err)
	n.Painting = NewPainting(panel, coats, needs, layout.Can{})
	start := time.Date(2026, time.May, 1, 9, 0, 0, 0, time.UTC)
	table, err := layout.Plan{Panel: panel, Coats: work, Start: start, Burn: 2 * time.Hour, Clear: true}.Timetable()
	require.NoError(t, err)
	n.Timetable = NewTimetable(start, table)
	n.After = NewAfter(layout.Canvas, true)
	n.Price, err = Rates{Currency: "EUR", Panel: 12, Can: 9.5, MachineHour: 6, HandHour: 25, SurchargePercent: 10}.Price(Work{Cans: 1.26, MachineHours: 2, HandHours: 1.5})
	require.NoError(t, err)
	return n
}

func TestNoteTellsHowThePanelFits(t *testing.T) {
	place := func(w, h layout.MM) layout.Placement {
		pl, err := layout.Place(layout.Panel{Kind: layout.Board, Size: layout.Size{W: w, H: h}}, layout.Even(0), 0.1)
		require.NoError(t, err)
		return pl
	}
	for _, c := range []struct {
		name   string
		w, h   layout.MM
		how    layout.How
		fits   bool
		travel layout.Size
		text   string
	}{
		{"upright", 300, 400, layout.Upright, true, layout.Size{W: 310, H: 400}, "fits        yes: the panel fits as it is"},
		{"turned", 420, 380, layout.Turned, true, layout.Size{W: 390, H: 420}, "turned by a quarter clockwise"},
		{"in sections", 300, 900, layout.InSections, false, layout.Size{W: 310, H: 900}, "IN SECTIONS: in one go the head would travel 310 x 900 mm"},
		{"not at all", 500, 500, layout.NotAtAll, false, layout.Size{W: 510, H: 500}, "NO: a bed of 400 x 420 mm holds no line of 500 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := noteOf(t, place(c.w, c.h), layout.Bed{W: 400, H: 420})
			require.Equal(t, c.how, n.Fit.How)
			require.Equal(t, c.fits, n.Fits)
			require.Equal(t, c.fits, n.WhyNot == "")
			require.Equal(t, c.travel, n.Travel)
			require.Equal(t, c.how == layout.InSections, len(n.Sections) > 0)
			require.Equal(t, c.how == layout.NotAtAll, n.Fit.Instead != nil)
			require.Contains(t, strings.Join(strings.Fields(n.Text(layout.Millimetre)), " "), strings.Join(strings.Fields(c.text), " "))
		})
	}
}

func TestSectionNoteJSONRoundTrip(t *testing.T) {
	want := sectionNote(t)
	data, err := want.JSON()
	require.NoError(t, err)
	var got Note
	require.NoError(t, json.Unmarshal(data, &got))
	again, err := got.JSON()
	require.NoError(t, err)
	require.Equal(t, string(data), string(again))
	require.Equal(t, want.Timetable.CanBurn.Time, got.Timetable.CanBurn.Time)
	require.Contains(t, string(data), `"start": "2026-05-01T09:00"`)
}

// The marks' words agree with those that layout gives.
func TestMarkAndMoveWords(t *testing.T) {
	n := sectionNote(t)
	require.Equal(t, "on the left side, "+layout.Millimetre.Format(n.Sections[0].Marks[0].FromEnd)+" from the top end ("+
		layout.Millimetre.Format(n.Sections[0].Marks[0].FromCentre)+" above the middle)", n.Sections[0].Marks[0].In(layout.Millimetre))
	require.Equal(t, n.Sections[1].Move.Words, n.Sections[1].Move.In(layout.Millimetre))
	below := NoteMark{Side: layout.TopSide, FromCentre: -25.4, FromEnd: 50.8}
	require.Equal(t, "on the top side, 2 in from the left end (1 in left of the middle)", below.In(layout.Inches))
}

func TestPrice(t *testing.T) {
	n := sectionNote(t)
	// By hand: 12 + 1.26 x 9.5 + 2 x 6 + 1.5 x 25 = 12 + 11.97 + 12 + 37.5 = 73.47; 10 % of that is 7.35 (7.347).
	var amounts []float64
	for _, l := range n.Price.Lines {
		amounts = append(amounts, l.Amount)
	}
	require.Equal(t, []float64{12, 11.97, 12, 37.5, 7.35}, amounts)
	require.Equal(t, 80.82, n.Price.Total)
	own, err := Rates{Currency: "EUR", HandHour: 10, HandHours: 3}.Price(Work{HandHours: 1})
	require.NoError(t, err)
	require.Equal(t, 30.0, own.Total, "handwork that the maker charges comes before the timetable's")
}

func TestRatesThatAreRefused(t *testing.T) {
	good := `{"kind":"undercoat-rates","version":1,"currency":"EUR","panel":12,"can":9.5,"other":0,"machine_hour":6,"hand_hour":25}`
	r, err := ReadRates([]byte(good))
	require.NoError(t, err)
	require.Equal(t, 9.5, r.Can)
	for _, c := range []struct{ name, from, to, want string }{
		{"negative", `"can":9.5`, `"can":-9.5`, "can is -9.5: give 0 to 1e+06"},
		{"no currency", `"EUR"`, `""`, `currency "" is not possible`},
		{"unknown field", `"can"`, `"tin"`, "tin"},
		{"another file", `undercoat-rates`, `undercoat-stack`, `kind is "undercoat-stack"`},
		{"not a number", `9.5`, `"nine"`, "rates"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadRates([]byte(strings.Replace(good, c.from, c.to, 1)))
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err = Rates{Currency: "EUR"}.Price(Work{Cans: 1})
	require.ErrorContains(t, err, "every rate is 0")
	_, err = Rates{Currency: "EUR", Can: math.NaN()}.Price(Work{Cans: 1})
	require.ErrorContains(t, err, "can is NaN")
}

// The border that is named keeps its word: laid down as carelessly as told, no side
// differs from the one across by more than a third of it, or by less than shows.
func TestEvenBorderKeepsItsWord(t *testing.T) {
	n := garageNote(t)
	pl, err := layout.Place(layout.Panel{Kind: layout.Board, Size: n.Panel}, layout.Even(n.Even.Least), 0.08)
	require.NoError(t, err)
	s, err := pl.Slipped(layout.Slip{X: n.Even.Shift, Y: n.Even.Shift, Degrees: n.Even.Degrees})
	require.NoError(t, err)
	require.Empty(t, s.OverEdge())
	require.LessOrEqual(t, float64(s.Uneven.By), float64(n.Even.Least)/3+0.01)
	require.Contains(t, strings.Join(strings.Fields(n.Text(layout.Millimetre)), " "), n.Even.In(layout.Millimetre))
}
