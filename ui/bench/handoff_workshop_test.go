package bench

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// handedOff hands off into a new folder and gives that folder and the note in it.
func (d *desk) handedOff() (string, export.Note) {
	d.t.Helper()
	dir := d.t.TempDir()
	ended := d.HandOffTo(dir)
	require.NotNil(d.t, ended)
	d.until("the end of the hand-off", func() bool { return closed(ended) })
	require.Contains(d.t, d.says(), "Handed off")
	dir = filepath.Join(dir, "job")
	data, err := os.ReadFile(filepath.Join(dir, job.PlacementJSONFile))
	require.NoError(d.t, err)
	var n export.Note
	require.NoError(d.t, json.Unmarshal(data, &n))
	return dir, n
}

func TestTheWorkshopReachesTheHandOff(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "Workshop")
	d.enter("Start", "2026-05-01 09:00")
	d.choose("Drying", "Heat gun")
	d.enter("Can covers", "2")
	d.enter("Paint lost", "20")
	d.enter("Rights", "own photograph")
	d.choose("Paper", "Letter")
	d.tick("Sections")
	require.Equal(t, "40 mm", d.field("At most").Text(), "a length that this panel can be cut to")
	d.enter("At most", "20")
	require.Equal(t, "2026-05-01 09:00, Letter, sections", d.handOff.parts.workshop.section.Summary())

	dir, n := d.handedOff()
	require.FileExists(t, filepath.Join(dir, job.CalendarFile))
	require.FileExists(t, filepath.Join(dir, job.SectionFile(3)))
	require.NoFileExists(t, filepath.Join(dir, job.ClientFile), "nothing is charged")
	require.NotNil(t, n.Timetable)
	require.Equal(t, "2026-05-01 09:00", n.Timetable.Start.Format(job.StartForm))
	require.Contains(t, n.Timetable.Steps[3].What, "heat gun")
	require.Equal(t, "own photograph", n.Picture.Rights)
	require.InDelta(t, 2, n.Painting.CanM2, 1e-9)
	require.InDelta(t, 0.2, n.Painting.LostPart, 1e-9)
	require.Len(t, n.Sections, 3)
	sheet, err := os.ReadFile(filepath.Join(dir, job.SheetFile))
	require.NoError(t, err)
	require.Contains(t, string(sheet), "/MediaBox [0 0 612.00 792.00]", "Letter is 8.5 x 11 in of 72 points")

	undo, _ := d.s.StepNames()
	require.Empty(t, undo, "none of it is a step of the job")
	require.False(t, d.s.Dirty())

	d.tick("Sections")
	d.enter("Start", "")
	require.Equal(t, "Letter", d.handOff.parts.workshop.section.Summary())
	_, n = d.handedOff()
	require.Empty(t, n.Sections)
	require.Nil(t, n.Timetable)
}

func TestAWorkshopThatCannotBeIsRefusedBelowItsLine(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "Workshop")
	d.tick("Sections")
	before := d.s.Workshop()
	for name, cases := range map[string]map[string]string{
		"Start":      {"tomorrow": "is not a day and a time", "1826-05-01 09:00": "choose a day from 2000 to 2200"},
		"Can covers": {"-1": "choose a value from 0", "much": "is not a number"},
		"Paint lost": {"95": "give 0 to 90", "-5": "give 0 to 90"},
		"At most":    {"0": "sections of no length", "-3": "", "100": "the panel fits as it is", "0.5": "too many"},
	} {
		for typed, says := range cases {
			d.enter(name, typed)
			problem := d.field(name).Problem()
			requirePlain(t, widgets.Sentence(problem), name+" "+typed)
			require.Contains(t, problem, says, "%s %s", name, typed)
			require.Equal(t, before, d.s.Workshop())
			d.escape()
		}
	}
}

// A job that has become shorter than the sections that were asked for.
func TestSectionsThatNoLongerSuitThePanelAreSaidSo(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "Workshop")
	d.tick("Sections")
	d.enter("At most", "45")
	require.Empty(t, d.field("At most").Problem())
	require.NoError(t, d.s.Edit("panel", "", func(doc *job.Document) error {
		doc.Panel.Size = layout.Size{W: 60, H: 40}
		return nil
	}))
	d.loop.turn()
	require.Contains(t, d.field("At most").Problem(), "choose a shorter length, or none")
	d.undo()
	d.loop.turn()
	require.Empty(t, d.field("At most").Problem())
}

func TestAPriceIsWorkedOutFromRates(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "Price")
	d.tick("Price")
	require.Equal(t, "EUR", d.field("Currency").Text())
	require.Contains(t, d.handOff.parts.price.told.Texts()[0], "Nothing is charged yet")
	d.enter("Blank panel", "12")
	d.enter("Machine", "3")
	d.enter("Surcharge", "50")
	d.until("a price", func() bool { return d.handOff.parts.price.section.Summary() != "" })
	told := d.handOff.parts.price.told.Texts()
	require.Contains(t, told[0], d.handOff.parts.price.section.Summary())
	require.Contains(t, told[1], "Panel: 12.00")

	dir, n := d.handedOff()
	require.FileExists(t, filepath.Join(dir, job.ClientFile))
	require.Contains(t, told[0], plainSum(n.Price.Total)+" EUR", "what the window said is what the sheet says")
	require.InDelta(t, (12+n.Price.Lines[1].Amount)*1.5, n.Price.Total, 0.011)

	for name, typed := range map[string]string{"Machine": "-3", "Handwork": "dear", "Surcharge": "1001", "Currency": ""} {
		before := d.s.Workshop()
		d.enter(name, typed)
		requirePlain(t, widgets.Sentence(d.field(name).Problem()), name)
		require.NotContains(t, d.field(name).Problem(), "_", "no name that only files have")
		require.Equal(t, before, d.s.Workshop())
		d.escape()
	}
	d.tick("Price")
	require.Nil(t, d.s.Workshop().Rates)
}

func TestRatesAreKeptInTheLibrary(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	d := newDesk(t)
	d.openSection(handOffNth, "Price")
	d.tick("Price")
	d.enter("Machine", "3")
	d.tap("Keep these rates")
	require.Contains(t, d.says(), "kept in the library")
	kept, err := library.Open().Rates("rates")
	require.NoError(t, err)
	require.Equal(t, 3.0, kept.MachineHour)

	d.enter("Machine", "5")
	d.tap("Keep these rates")
	require.Contains(t, d.says(), "already")
	kept, err = library.Open().Rates("rates")
	require.NoError(t, err)
	require.Equal(t, 3.0, kept.MachineHour, "nothing is replaced unasked")
	d.choose("Library", "rates")
	require.Equal(t, "3", d.field("Machine").Text())
	d.enter("Machine", "5")
	test.Tap(d.button("Replace them"))
	d.loop.turn()
	kept, err = library.Open().Rates("rates")
	require.NoError(t, err)
	require.Equal(t, 5.0, kept.MachineHour)

	d.tick("Price")
	d.tick("Price")
	require.Equal(t, "5", d.field("Machine").Text(), "they stand there again")
}
