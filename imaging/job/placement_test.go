package job_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// noteOf is placement.json as any reader of JSON sees it.
func noteOf(t *testing.T, dir string) map[string]any {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, job.PlacementJSONFile))
	require.NoError(t, err)
	var note map[string]any
	require.NoError(t, json.Unmarshal(data, &note))
	return note
}

func numbersIn(t *testing.T, v any) []float64 {
	t.Helper()
	list, ok := v.([]any)
	require.True(t, ok, "%v is a list", v)
	var out []float64
	for _, e := range list {
		if n, ok := e.(float64); ok {
			out = append(out, n)
			continue
		}
		out = append(out, numbersIn(t, e)...)
	}
	return out
}

// A 10 in square at 318 dpi with a border of 0.075 in: a panel that many people
// burn, with the corners they type into their machines.
// Common practice, no source; the numbers follow by arithmetic.
func TestPlacementOfTheTenInchPanel(t *testing.T) {
	d := plain(t, 10*layout.Inch, 10*layout.Inch, layout.Inch/318)
	d.Border = layout.Even(0.075 * layout.Inch)
	dir, _ := prepared(t, withPicture(t, d, "dunes.jpg", golden(t, "dunes.jpg")), job.RasterOutput, job.PlacementOutput)
	note := noteOf(t, dir)
	require.Equal(t, []float64{3132, 3132}, numbersIn(t, note["raster_dots"]))
	require.InDelta(t, 12520, note["dots_per_metre"], 0)
	require.Equal(t, []float64{254, 254}, numbersIn(t, note["panel_mm"]))
	require.InDeltaSlice(t, []float64{-125.095, 125.095, 125.095, 125.095, 125.095, -125.095, -125.095, -125.095},
		numbersIn(t, note["corners_mm"]), 0.05)
	require.Equal(t, []float64{0, 0}, numbersIn(t, note["centre_mm"]))
	headSays(t, filepath.Join(dir, job.RasterFile), 3132, 3132, 12520)
}

// uneven is a job whose every length is another one, and its placement worked
// out by hand.
func uneven(t *testing.T) *job.Job {
	t.Helper()
	d := plain(t, 100, 80, 0.25)
	d.Border = layout.Border{Left: 10, Right: 2, Top: 4, Bottom: 20}
	d.Name = "uneven"
	return withPicture(t, d, "rose.png", golden(t, "rose.png"))
}

func TestPlacementOfAnUnevenBorder(t *testing.T) {
	dir, _ := prepared(t, uneven(t), job.PlacementOutput)
	note := noteOf(t, dir)
	require.Equal(t, []float64{352, 224}, numbersIn(t, note["raster_dots"])) // 88 / 0.25, 56 / 0.25
	// The wider border is on the left and at the bottom: the raster sits to the
	// right of the centre and above it, and y runs up.
	require.Equal(t, []float64{4, 8}, numbersIn(t, note["centre_mm"]))
	require.Equal(t, []float64{-40, 36, 48, 36, 48, -20, -40, -20}, numbersIn(t, note["corners_mm"]))
}

func TestPlacementJSONHoldsWhatItPromises(t *testing.T) {
	j := uneven(t)
	dir, h := prepared(t, j)
	note := noteOf(t, dir)
	m := j.Document.Machine

	border, ok := note["border_mm"].(map[string]any)
	require.True(t, ok)
	require.Equal(t, map[string]any{"left": 10.0, "right": 2.0, "top": 4.0, "bottom": 20.0}, border)
	require.Equal(t, map[string]any{"power_percent": 60.0, "speed_mm_per_min": 3000.0, "pitch_mm": 0.25, "passes": 1.0}, note["setting"])
	require.Equal(t, []float64{100, 80}, numbersIn(t, note["panel_mm"]))
	require.Equal(t, []float64{88, 56}, numbersIn(t, note["size_mm"]))
	require.Equal(t, 0.25, note["pitch_mm"])
	require.Equal(t, []float64{88 + 2*float64(m.RunUp), 56}, numbersIn(t, note["travel_mm"]))
	require.Equal(t, true, note["fits"])
	require.Equal(t, "", note["why_not"])
	require.Equal(t, false, note["calibrated"])
	require.Equal(t, h.Note.BurnTimeS, note["burn_time_s"])
	require.Greater(t, note["burn_time_s"], 60.0)
	cautions, ok := note["cautions"].([]any)
	require.True(t, ok)
	require.Contains(t, cautions[0], "uncalibrated")
	require.Contains(t, fmt.Sprint(cautions...), "60825")

	files, ok := note["files"].([]any)
	require.True(t, ok)
	require.Len(t, files, 3)
	for i, name := range []string{job.RasterFile, job.ProofFile, job.SheetFile} {
		data, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		require.Equal(t, map[string]any{"name": name, "sha256": job.Checksum(data)}, files[i])
	}
	for _, name := range []string{"panel_mm", "border_mm", "raster_dots", "pitch_mm", "size_mm", "centre_mm", "corners_mm",
		"travel_mm", "fits", "why_not", "setting", "burn_time_s", "calibrated", "files", "cautions"} {
		require.Contains(t, note, name)
	}
}

// Lengths that were typed in inches come out without the tails of binary fractions.
func TestPlacementJSONHasNoBinaryTails(t *testing.T) {
	d := plain(t, 12*layout.Inch, 16*layout.Inch, 0.3)
	d.Panel.EdgeDepth = 1.5 * layout.Inch
	d.Border = layout.Even(layout.Inch / 8)
	dir, _ := prepared(t, withPicture(t, d, "rose.png", golden(t, "rose.png")), job.PlacementOutput)
	data, err := os.ReadFile(filepath.Join(dir, job.PlacementJSONFile))
	require.NoError(t, err)
	require.Empty(t, regexp.MustCompile(`"?\w*"?:?\s*-?\d+\.\d*(?:9{6}|0{6})\d*`).FindAllString(string(data), -1))
}

func TestPlacementSaysWhyItDoesNotFit(t *testing.T) {
	d := plain(t, 900, 300, 1)
	dir, h := prepared(t, withPicture(t, d, "rose.png", golden(t, "rose.png")), job.PlacementOutput)
	note := noteOf(t, dir)
	require.Equal(t, false, note["fits"])
	require.Contains(t, note["why_not"], "910 x 300 mm")
	require.Contains(t, h.Cautions, note["why_not"])
	text, err := os.ReadFile(filepath.Join(dir, job.PlacementTextFile))
	require.NoError(t, err)
	require.Contains(t, string(text), "IN SECTIONS: in one go the head would travel 910 x 300 mm")
}

// TestPlacementTextAgreesWithTheJSON reads the numbers of the page for people and
// holds them against those for programs, in each unit that people read.
func TestPlacementTextAgreesWithTheJSON(t *testing.T) {
	for _, unit := range []layout.Unit{layout.Millimetre, layout.Centimetre, layout.Inches} {
		t.Run(unit.String(), func(t *testing.T) {
			j := uneven(t)
			j.Document.Unit = unit.String()
			j.Document.Setting.Passes = 3
			dir, _ := prepared(t, j)
			note := noteOf(t, dir)
			page, err := os.ReadFile(filepath.Join(dir, job.PlacementTextFile))
			require.NoError(t, err)
			p := textPage{t: t, text: string(page), mm: map[string]float64{"mm": 1, "cm": 10, "in": 25.4}[unit.String()]}

			p.lengths("panel", append(numbersIn(t, note["panel_mm"]), note["edge_depth_mm"].(float64))...)
			p.lengths("true size", numbersIn(t, note["size_mm"])...)
			p.lengths("border", 10, 2, 4, 20)
			p.lengths("head travels", append(numbersIn(t, note["travel_mm"]), note["run_up_mm"].(float64))...)
			p.lengths("bed", numbersIn(t, note["bed_mm"])...)
			corners := numbersIn(t, note["corners_mm"])
			for i, name := range []string{"upper left", "upper right", "lower right", "lower left"} {
				p.lengths(name, corners[2*i:2*i+2]...)
			}
			p.lengths("centre", numbersIn(t, note["centre_mm"])...)
			require.Equal(t, numbersIn(t, note["raster_dots"]), p.numbers("raster"))
			require.Equal(t, []float64{0.25, 101.6, 4000}, p.numbers("pitch"))
			setting := note["setting"].(map[string]any)
			require.Equal(t, []float64{setting["power_percent"].(float64)}, p.numbers("power"))
			require.Equal(t, []float64{setting["speed_mm_per_min"].(float64)}, p.numbers("speed"))
			require.Equal(t, []float64{3}, p.numbers("passes"))
			require.InDelta(t, note["burn_time_s"], p.seconds("burn time"), 30.5, "to the minute")
			for _, f := range note["files"].([]any) {
				require.Contains(t, p.text, f.(map[string]any)["name"])
				require.Contains(t, p.text, f.(map[string]any)["sha256"])
			}
			whole := strings.Join(strings.Fields(p.text), " ")
			for _, c := range note["cautions"].([]any) {
				require.Contains(t, whole, c)
			}
		})
	}
}

// textPage reads labelled lines of placement.txt.
type textPage struct {
	t    *testing.T
	text string
	mm   float64 // of the page's unit
}

var number = regexp.MustCompile(`-?\d+(?:\.\d+)?`)

// line is what stands behind a label.
func (p textPage) line(label string) string {
	p.t.Helper()
	m := regexp.MustCompile(`(?m)^  ` + label + `  +(.*(?:\n {16}.*)*)$`).FindStringSubmatch(p.text)
	require.NotNil(p.t, m, "no line for %q in\n%s", label, p.text)
	return m[1]
}

func (p textPage) numbers(label string) []float64 {
	p.t.Helper()
	var out []float64
	for _, n := range number.FindAllString(p.line(label), -1) {
		v, err := strconv.ParseFloat(n, 64)
		require.NoError(p.t, err)
		out = append(out, v)
	}
	return out
}

// lengths holds a line's lengths against millimetres, to what the page rounds to:
// 0.01 mm, 0.001 cm or 0.001 in.
func (p textPage) lengths(label string, wantMM ...float64) {
	p.t.Helper()
	got := p.numbers(label)
	require.Len(p.t, got, len(wantMM), label)
	for i := range got {
		require.InDelta(p.t, wantMM[i], got[i]*p.mm, math.Max(0.005, 0.0005*p.mm)+1e-9, label)
	}
}

// seconds reads "about 1 h 20 min".
func (p textPage) seconds(label string) float64 {
	p.t.Helper()
	total, found := 0.0, false
	for unit, worth := range map[string]float64{"h": 3600, "min": 60, "s": 1} {
		if m := regexp.MustCompile(`(\d+) ` + unit + `\b`).FindStringSubmatch(p.line(label)); m != nil {
			n, err := strconv.ParseFloat(m[1], 64)
			require.NoError(p.t, err)
			total, found = total+n*worth, true
		}
	}
	require.True(p.t, found, p.line(label))
	return total
}
