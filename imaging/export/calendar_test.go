package export

import (
	"bytes"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/layout"
)

func calendarOf(t require.TestingT, name string, coats ...layout.CoatWork) (string, layout.Timetable) {
	table, err := layout.Plan{
		Panel: layout.Panel{Kind: layout.Canvas, Size: layout.Size{W: 300, H: 400}, EdgeDepth: 19},
		Coats: coats, Burn: 8*time.Hour + 10*time.Minute, Clear: true,
		Start: time.Date(2026, time.May, 1, 9, 0, 0, 0, time.FixedZone("", 2*3600)),
	}.Timetable()
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, WriteCalendar(&out, name, table))
	return out.String(), table
}

// The calendar is read back by a parser that has nothing to do with this program.
func TestCalendarReadsBack(t *testing.T) {
	const name = `heron, "dusk"; a\b`
	text, table := calendarOf(t, name, layout.CoatWork{Name: "Köln Grün, matt"}, layout.CoatWork{Name: "cream"})
	cal, err := ics.ParseCalendar(strings.NewReader(text))
	require.NoError(t, err)
	events := cal.Events()
	require.Len(t, events, len(table.Steps))
	seen := map[string]bool{}
	for i, s := range table.Steps {
		e := events[i]
		require.Equal(t, name+": "+s.String(), ics.FromText(e.GetProperty(ics.ComponentPropertySummary).Value))
		require.Equal(t, s.Start.Format("20060102T150405"), e.GetProperty(ics.ComponentPropertyDtStart).Value)
		require.Equal(t, s.End().Format("20060102T150405"), e.GetProperty(ics.ComponentPropertyDtEnd).Value)
		require.False(t, seen[e.Id()], "each event has an identity of its own")
		seen[e.Id()] = true
		stamp, err := e.GetDtStampTime()
		require.NoError(t, err)
		require.True(t, stamp.Equal(table.Steps[0].Start))
		if s.What == layout.Burn {
			about := ics.FromText(e.GetProperty(ics.ComponentPropertyDescription).Value)
			for _, c := range Cautions() {
				require.Contains(t, about, c)
			}
		}
	}
}

// Source: RFC 5545, 3.1: lines end in CRLF and are at most 75 octets; a folded line
// goes on after a blank.
func TestCalendarLinesAreFolded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringN(1, 200, 200).Draw(t, "name")
		text, _ := calendarOf(t, name, layout.CoatWork{Name: "ß€𝄞"})
		require.True(t, strings.HasSuffix(text, "END:VCALENDAR\r\n"))
		for _, line := range strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n") {
			require.LessOrEqual(t, len(line), 75)
			require.NotContains(t, line, "\n")
			require.NotContains(t, line, "\r")
		}
		require.Equal(t, strings.ToValidUTF8(text, "?"), text, "no letter is cut in two")
		_, err := ics.ParseCalendar(strings.NewReader(text))
		require.NoError(t, err)
	})
}

func TestCalendarWithoutSteps(t *testing.T) {
	require.ErrorContains(t, WriteCalendar(&bytes.Buffer{}, "x", layout.Timetable{}), "no steps")
}
