package export

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// noteOf is the note of a placement on a machine with 5 mm of run-up.
func noteOf(t *testing.T, pl layout.Placement, bed layout.Bed) Note {
	t.Helper()
	reach := layout.Reach{Bed: bed, RunUp: 5}
	fit, err := reach.Fit(pl, layout.Cuts{})
	require.NoError(t, err)
	return NewNote(pl, reach, fit)
}

// garageNote is a canvas with a wider lower border, so that no two sides and no
// two corners can be mixed up unseen.
func garageNote(t *testing.T) Note {
	t.Helper()
	pl, err := layout.Place(
		layout.Panel{Kind: layout.Canvas, Size: layout.Size{W: 300, H: 400}, EdgeDepth: 19},
		layout.Border{Left: 6, Right: 8, Top: 10, Bottom: 22}, 0.08)
	require.NoError(t, err)
	n := noteOf(t, pl, layout.Bed{W: 400, H: 400})
	n.Job, n.Machine, n.Stack = "lighthouse", "starter 5.5 W diode", "graphite, teal, sunflower"
	n.Setting = burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.08, Passes: 1}
	n.BurnTimeS = 29400
	n.Files = []Entry{{"raster.png", strings.Repeat("0123456789abcdef", 4)}}
	n.Caution("the full dose of 75 J/cm2 scorches <nothing> here")
	return n
}

func TestNoteGeometry(t *testing.T) {
	// Worked by hand: the picture area is 286 x 368 mm, that is 3575 x 4600 dots of 0.08 mm
	// exactly; its centre lies (6-8)/2 mm right and (22-10)/2 mm up of the panel's.
	n := garageNote(t)
	require.Equal(t, [2]int{3575, 4600}, n.RasterDots)
	require.Equal(t, layout.Size{W: 286, H: 368}, n.Size)
	require.Equal(t, layout.Point{X: -1, Y: 6}, n.Centre)
	require.Equal(t, [4]layout.Point{{X: -144, Y: 190}, {X: 142, Y: 190}, {X: 142, Y: -178}, {X: -144, Y: -178}}, n.Corners)
	require.Equal(t, n.Border, n.BorderTrue)
	require.Equal(t, layout.Size{W: 296, H: 368}, n.Travel)
	require.True(t, n.Fits)
	require.Equal(t, 12500, n.PerMetre)
	require.Equal(t, 317.5, n.DotsPerInch)
}

func TestNoteCornersFollowTheCentreAndSize(t *testing.T) {
	pl, err := layout.Place(layout.Panel{Kind: layout.Board, Size: layout.Size{W: 304.8, H: 406.4}}, layout.Even(3.3), layout.Inch/318)
	require.NoError(t, err)
	n := noteOf(t, pl, layout.Bed{W: 400, H: 400})
	for i, sign := range [4][2]layout.MM{{-1, 1}, {1, 1}, {1, -1}, {-1, -1}} {
		require.InDelta(t, float64(n.Centre.X+sign[0]*n.Size.W/2), float64(n.Corners[i].X), 2e-6)
		require.InDelta(t, float64(n.Centre.Y+sign[1]*n.Size.H/2), float64(n.Corners[i].Y), 2e-6)
	}
	require.InDelta(t, 304.8, float64(n.BorderTrue.Left+n.Size.W+n.BorderTrue.Right), 3e-6)
	require.InDelta(t, 406.4, float64(n.BorderTrue.Top+n.Size.H+n.BorderTrue.Bottom), 3e-6)
	require.True(t, n.Fits, "308.2 x 399.8 mm of travel on a bed of 400 x 400")
}

func TestNoteJSONHasTheNamesOthersRelyOn(t *testing.T) {
	data, err := garageNote(t).JSON()
	require.NoError(t, err)
	var got map[string]any
	require.NoError(t, json.Unmarshal(data, &got))
	for name, want := range map[string]any{
		"panel_mm":    []any{300.0, 400.0},
		"border_mm":   map[string]any{"left": 6.0, "right": 8.0, "top": 10.0, "bottom": 22.0},
		"raster_dots": []any{3575.0, 4600.0},
		"pitch_mm":    0.08,
		"size_mm":     []any{286.0, 368.0},
		"centre_mm":   []any{-1.0, 6.0},
		"corners_mm":  []any{[]any{-144.0, 190.0}, []any{142.0, 190.0}, []any{142.0, -178.0}, []any{-144.0, -178.0}},
		"travel_mm":   []any{296.0, 368.0},
		"fits":        true,
		"why_not":     "",
		"setting":     map[string]any{"power_percent": 30.0, "speed_mm_per_min": 1500.0, "pitch_mm": 0.08, "passes": 1.0},
		"burn_time_s": 29400.0,
		"calibrated":  false,
		"notice":      Uncalibrated,
		"files":       []any{map[string]any{"name": "raster.png", "sha256": strings.Repeat("0123456789abcdef", 4)}},
	} {
		require.Equal(t, want, got[name], name)
	}
	require.Len(t, got["cautions"], len(Cautions())+1)
	require.Contains(t, string(data), "<nothing>", "no web page: signs stay as they are")
	require.True(t, strings.HasSuffix(string(data), "}\n"))
}

func TestNoteJSONRoundTrip(t *testing.T) {
	want := garageNote(t)
	data, err := want.JSON()
	require.NoError(t, err)
	var got Note
	require.NoError(t, json.Unmarshal(data, &got))
	want.Notice = Uncalibrated
	require.Equal(t, want, got)
	again, err := got.JSON()
	require.NoError(t, err)
	require.Equal(t, string(data), string(again))
}

func TestNoteJSONOfACalibratedStack(t *testing.T) {
	n := garageNote(t)
	n.Calibrated, n.Notice, n.Files, n.Cautions = true, Uncalibrated, nil, nil
	data, err := n.JSON()
	require.NoError(t, err)
	require.NotContains(t, string(data), "notice")
	require.Contains(t, string(data), `"files": []`)
	require.Contains(t, string(data), `"cautions": []`)
}

func TestNoteJSONRefusesWhatIsNoNumber(t *testing.T) {
	n := garageNote(t)
	n.BurnTimeS = math.NaN()
	_, err := n.JSON()
	require.ErrorContains(t, err, "placement note")
}

func TestTheJobsCautionsComeFirst(t *testing.T) {
	n := Note{Cautions: Cautions()}
	n.Caution("one", "two")
	require.Equal(t, append([]string{"one", "two"}, Cautions()...), n.Cautions)
}

func TestNoteHasNoNegativeZero(t *testing.T) {
	require.False(t, math.Signbit(float64(round(-1e-9))))
}

func TestNoteText(t *testing.T) {
	fits := garageNote(t)
	garage, err := layout.Place(
		layout.Panel{Kind: layout.Canvas, Size: layout.Size{W: 300, H: 400}, EdgeDepth: 19},
		layout.Border{Left: 6, Right: 8, Top: 10, Bottom: 22}, 0.08)
	require.NoError(t, err)
	wide := noteOf(t, garage, layout.Bed{W: 200, H: 200})
	wide.Setting, wide.Calibrated = fits.Setting, true
	turned := noteOf(t, garage, layout.Bed{W: 400, H: 300})
	turned.Setting, turned.Calibrated = fits.Setting, true
	parts := sectionNote(t)
	pl, err := layout.Place(layout.Panel{Kind: layout.Tile, Size: layout.Size{W: 152, H: 152}}, layout.Even(3), layout.Inch/318)
	require.NoError(t, err)
	odd := noteOf(t, pl, layout.Bed{W: 400, H: 400})
	odd.Setting = burn.Setting{PowerPercent: 12.5, Speed: 50, Pitch: pl.Grid.Pitch, Passes: 2}
	odd.BurnTimeS = 750
	for _, c := range []struct {
		name string
		note Note
		unit layout.Unit
	}{
		{"note_mm", fits, layout.Millimetre},
		{"note_cm", fits, layout.Centimetre},
		{"note_in_too_wide", wide, layout.Inches},
		{"note_318_dpi", odd, layout.Millimetre},
		{"note_turned", turned, layout.Millimetre},
		{"note_everything", parts, layout.Inches},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.note.Text(c.unit)
			golden := filepath.Join("testdata", c.name+".golden.txt")
			if *update {
				require.NoError(t, os.MkdirAll("testdata", 0o777))
				require.NoError(t, os.WriteFile(golden, []byte(got), 0o666))
			}
			want, err := os.ReadFile(golden)
			require.NoError(t, err)
			require.Equal(t, string(want), got)
			for _, line := range strings.Split(got, "\n") {
				require.LessOrEqual(t, len(line), textWidth, line)
				require.Equal(t, strings.TrimRight(line, " "), line)
			}
			for _, caution := range c.note.Cautions {
				require.Contains(t, strings.Join(strings.Fields(got), " "), strings.Join(strings.Fields(caution), " "))
			}
			require.Equal(t, !c.note.Calibrated, strings.Contains(got, Uncalibrated))
		})
	}
}

func TestNoteTextKeepsNamesOnOneLine(t *testing.T) {
	n := garageNote(t)
	n.Job, n.Files = "two\nlines\x1b[2J", []Entry{{Name: "a\nb", SHA256: "0"}}
	text := n.Text(layout.Millimetre)
	require.Contains(t, text, "two lines [2J\n")
	require.Contains(t, text, "  a b\n")
	require.NotContains(t, text, "\x1b")
}
