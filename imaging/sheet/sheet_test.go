package sheet

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/layout"
)

// noteOf is a note with everything in it, of a panel on a bed, burned whole or in sections.
func noteOf(t testing.TB, panel layout.Size, bed layout.Bed) export.Note {
	t.Helper()
	p := layout.Panel{Kind: layout.Canvas, Size: panel, EdgeDepth: 19}
	pl, err := layout.Place(p, layout.Border{Left: 7.1, Right: 8.2, Top: 10.3, Bottom: 21.4}, 0.085)
	require.NoError(t, err)
	reach := layout.Reach{Bed: bed, RunUp: 5.5}
	fit, err := reach.Fit(pl, layout.Cuts{})
	require.NoError(t, err)
	n := export.NewNote(pl, reach, fit)
	n.Job, n.Machine, n.Stack = "Heron at dusk, no. 7", "garage machine", "graphite, teal, sunflower"
	n.Setting = burn.Setting{PowerPercent: 31.5, Speed: 27.5, Pitch: 0.085, Passes: 3}
	n.BurnTimeS = 37263
	n.Motion = export.NoteMotion{AccelerationMMPerS2: 500, SkipsBlank: true}
	for i := range n.Sections {
		n.Sections[i].File = fmt.Sprintf("section-%d.png", i+1)
		if i > 0 {
			n.Seams = append(n.Seams, export.NoteSeam{Between: [2]int{i, i + 1}, At: 43.21, Looks: []export.SeamLooks{{Off: 0.2, Apart: 4.4, Over: 5.6, Words: "left apart it shows as a fine line (4.4), laid over it shows as a fine line (5.6)"}}})
		}
	}
	coats := []export.NoteCoat{
		{Name: "graphite", Colour: colour.Stored{R: 0x2b, G: 0x2d, B: 0x30}, ThicknessUM: 25},
		{Name: "teal", Colour: colour.Stored{R: 0x1e, G: 0x7c, B: 0x7e}, ThicknessUM: 27.5},
		{Name: "sunflower", Colour: colour.Stored{R: 0xf2, G: 0xb1, B: 0x2b}, ThicknessUM: 22},
	}
	var work []layout.CoatWork
	for _, c := range coats {
		work = append(work, layout.CoatWork{Name: c.Name, ThicknessUM: c.ThicknessUM})
	}
	needs, err := p.Needs(work)
	require.NoError(t, err)
	n.Painting = export.NewPainting(p, coats, needs, layout.Can{})
	start := time.Date(2026, time.May, 1, 9, 7, 0, 0, time.UTC)
	table, err := layout.Plan{Panel: p, Coats: work, Start: start, Burn: n.BurnTime(), Clear: true}.Timetable()
	require.NoError(t, err)
	n.Timetable = export.NewTimetable(start, table)
	n.After = export.NewAfter(p.Kind, true)
	n.Picture = &export.NotePicture{File: "heron.jpg", Rights: "own photograph of 2025"}
	n.Files = []export.Entry{{Name: "raster.png", SHA256: strings.Repeat("0123456789abcdef", 4)}, {Name: "proof.png", SHA256: strings.Repeat("fedcba9876543210", 4)}}
	n.Price, err = export.Rates{Currency: "EUR", Panel: 14.25, Can: 9.5, MachineHour: 5, HandHour: 24, SurchargePercent: 19}.Price(export.Work{Cans: 1.37, MachineHours: 10.35, HandHours: 1.75})
	require.NoError(t, err)
	n.Caution("the picture is enlarged 2.5 times: it will look soft close up")
	return n
}

// proofOf is a picture of a panel's shape.
func proofOf(n export.Note) *image.RGBA {
	h := 200
	w := int(float64(h) * float64(n.Panel.W/n.Panel.H))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA{R: uint8(x), G: uint8(y), B: 120, A: 255})
		}
	}
	return img
}

func whole(t *testing.T) export.Note {
	return noteOf(t, layout.Size{W: 301.5, H: 402.5}, layout.Bed{W: 410, H: 430})
}
func inParts(t *testing.T) export.Note {
	return noteOf(t, layout.Size{W: 304.8, H: 914.4}, layout.Bed{W: 410, H: 430})
}

func jobSheetOf(t *testing.T, n export.Note, o Options) []byte {
	t.Helper()
	var out bytes.Buffer
	o.Proof = proofOf(n)
	require.NoError(t, Job(&out, n, o))
	return out.Bytes()
}

func clientSheetOf(t *testing.T, n export.Note, o Options) []byte {
	t.Helper()
	var out bytes.Buffer
	o.Proof = proofOf(n)
	require.NoError(t, Client(&out, n, o))
	return out.Bytes()
}

// readBack is the text of a PDF as a program that is none of ours finds it.
func readBack(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	out, err := exec.Command("pdftotext", "-enc", "UTF-8", "-raw", path, "-").Output()
	if errors.Is(err, exec.ErrNotFound) {
		t.Skip("pdftotext is not installed: sheets are not read back")
	}
	require.NoError(t, err)
	return strings.ReplaceAll(string(out), "\u2212", "-")
}

// squeezed is a text without any blanks: columns and line breaks do not count.
func squeezed(text string) string { return strings.Join(strings.Fields(text), "") }

var figures = regexp.MustCompile(`[0-9]+(?:[.,][0-9]+)*`)

// told are all figures that a note's JSON tells of, in every form in which a sheet may
// write them.
func told(t *testing.T, n export.Note, u layout.Unit) map[string]bool {
	t.Helper()
	data, err := n.JSON()
	require.NoError(t, err)
	var all any
	require.NoError(t, json.Unmarshal(data, &all))
	known := map[string]bool{}
	say := func(text string) {
		for _, f := range figures.FindAllString(text, -1) {
			known[f] = true
		}
	}
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			for _, part := range v {
				walk(part)
			}
		case []any:
			for _, part := range v {
				walk(part)
			}
		case string:
			say(v)
			if at, err := time.Parse("2006-01-02T15:04", v); err == nil {
				say(at.Format("2 2006 15 04"))
			}
		case float64:
			say(u.Format(layout.MM(v)))
			say(fmt.Sprintf("%g %.4g %.5g %.6g %.2f %.0f", v, v, v, v, v, v))
			say(strconv.FormatFloat(v, 'f', -1, 64))
			say(fmt.Sprintf("%g", v*100)) // shares as per cent
			say(fmt.Sprintf("%g", v/1000))
		}
	}
	walk(all)
	say(layout.FormatDuration(n.BurnTime()))
	return known
}

// Every figure on paper is one of placement.json, and the ones that matter are all there.
func TestEveryFigureOnASheetIsInTheNote(t *testing.T) {
	for _, c := range []struct {
		name string
		note export.Note
		unit layout.Unit
		make func(*testing.T, export.Note, Options) []byte
	}{
		{"job sheet, mm", whole(t), layout.Millimetre, jobSheetOf},
		{"job sheet, in", whole(t), layout.Inches, jobSheetOf},
		{"job sheet in sections", inParts(t), layout.Millimetre, jobSheetOf},
		{"client's sheet", whole(t), layout.Centimetre, clientSheetOf},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := readBack(t, c.make(t, c.note, Options{Unit: c.unit}))
			require.Empty(t, untold(t, text, c.note, c.unit), "figures on the sheet that are not in the note")
			other := c.note
			other.Panel.W += 1.37
			other.BurnTimeS += 660
			require.NotEmpty(t, untold(t, readBack(t, c.make(t, other, Options{Unit: c.unit})), c.note, c.unit), "the test sees a figure that is off")
		})
	}
}

// untold are the figures of a sheet's text that its note does not know.
func untold(t *testing.T, text string, n export.Note, u layout.Unit) []string {
	t.Helper()
	known := told(t, n, u)
	for _, constant := range []string{"256", "2000", "1", "2", "3", "0"} { // SHA-256, CIEDE2000, numbering
		known[constant] = true
	}
	for _, f := range n.Files {
		text = strings.ReplaceAll(text, f.SHA256, "")
	}
	var out []string
	for _, f := range figures.FindAllString(text, -1) {
		if !known[f] && !known[strings.TrimPrefix(f, "0")] {
			out = append(out, f)
		}
	}
	return out
}

func TestJobSheetHoldsWhatMatters(t *testing.T) {
	for _, n := range []export.Note{whole(t), inParts(t)} {
		data := jobSheetOf(t, n, Options{})
		text := squeezed(readBack(t, data))
		mm := layout.Millimetre
		want := []string{
			n.Job, n.Machine, n.Stack, export.Uncalibrated,
			mm.FormatSize(n.Panel), mm.FormatSize(n.Size), mm.FormatSize(n.Bed), mm.FormatSize(n.Travel),
			fmt.Sprintf("%d x %d", n.RasterDots[0], n.RasterDots[1]),
			"31.5 %", "1650 mm/min", "0.085 mm", layout.FormatDuration(n.BurnTime()),
			"Fri 1 May", "09:07", n.Timetable.CanBurn.Format("Mon 2 Jan 2006, 15:04"),
			"graphite", "teal", "sunflower", "heron.jpg", "own photograph of 2025",
		}
		for _, s := range n.Walk {
			want = append(want, string(s.Spot))
		}
		for _, corner := range n.Corners {
			want = append(want, mm.Format(corner.X)[:6])
		}
		for _, f := range n.Files {
			want = append(want, f.Name, f.SHA256)
		}
		for _, a := range n.After {
			want = append(want, string(a.What))
			want = append(want, a.Cautions...)
		}
		for _, s := range n.Sections {
			want = append(want, s.File, s.Marks[0].In(mm), s.Marks[1].In(mm), mm.FormatSize(s.Size))
		}
		for _, w := range want {
			require.Contains(t, text, squeezed(w))
		}
	}
}

// The cautions stand on every sheet, whatever else does.
func TestCautionsAreOnEverySheet(t *testing.T) {
	bare := whole(t)
	bare.Painting, bare.Timetable, bare.After, bare.Picture, bare.Price, bare.Files = nil, nil, nil, nil, nil, nil
	for name, n := range map[string]export.Note{"full": whole(t), "in sections": inParts(t), "bare": bare} {
		for _, letter := range []bool{false, true} {
			for _, data := range [][]byte{jobSheetOf(t, n, Options{Letter: letter}), clientSheetOf(t, n, Options{Letter: letter})} {
				text := squeezed(readBack(t, data))
				require.NotEmpty(t, export.Cautions())
				for _, c := range export.Cautions() {
					require.Contains(t, text, squeezed(c), name)
				}
				require.Contains(t, text, squeezed(export.Uncalibrated), name)
			}
		}
	}
	calibrated := whole(t)
	calibrated.Calibrated = true
	require.NotContains(t, squeezed(readBack(t, jobSheetOf(t, calibrated, Options{}))), "uncalibrated")
}

func TestClientSheetHoldsPriceAndPromise(t *testing.T) {
	n := whole(t)
	text := squeezed(readBack(t, clientSheetOf(t, n, Options{})))
	for _, w := range []string{promise, "in all", fmt.Sprintf("%.2f EUR", n.Price.Total), "name and signature", "301.5 x 402.5 mm"} {
		require.Contains(t, text, squeezed(w))
	}
	sum := 0.0
	for _, l := range n.Price.Lines {
		require.Contains(t, text, fmt.Sprintf("%.2f", l.Amount))
		sum += l.Amount
	}
	require.InDelta(t, sum, n.Price.Total, 1e-9)
	n.Price = nil
	require.NotContains(t, readBack(t, clientSheetOf(t, n, Options{})), "Price")
}

// Two programs that are none of ours open a sheet: the other one draws it. Nothing runs out
// of the paper's margin, and the first page is neither empty nor black.
func TestSheetsAreDrawnWithinTheirMargins(t *testing.T) {
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm is not installed: sheets are not drawn")
	}
	for name, data := range map[string][]byte{
		"job":             jobSheetOf(t, whole(t), Options{}),
		"job in sections": jobSheetOf(t, inParts(t), Options{Letter: true, Unit: layout.Inches}),
		"client":          clientSheetOf(t, whole(t), Options{Wall: proofOf(whole(t))}),
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, "sheet.pdf")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		require.NoError(t, exec.Command(tool, "-r", "72", "-png", path, filepath.Join(dir, "page")).Run(), name)
		pages, err := filepath.Glob(filepath.Join(dir, "page*.png"))
		require.NoError(t, err)
		require.LessOrEqual(t, len(pages), 2, name)
		for i, page := range pages {
			inside, outside := inkOf(t, page)
			require.Zero(t, outside, "%s, page %d: ink in the margin", name, i+1)
			require.Greater(t, inside, 0.005, "%s, page %d", name, i+1)
			require.Less(t, inside, 0.5, "%s, page %d", name, i+1)
		}
	}
}

// inkOf is the share of dark pixels within the margins of a page drawn at 72 dots per inch,
// and their number outside.
func inkOf(t *testing.T, path string) (inside float64, outside int) {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	b := img.Bounds()
	const rim = 12.0 / ptMM // 12 mm at the sides; head and foot lie nearer to the edge
	side, top := int(math.Round(rim)), int(math.Round(5/ptMM))
	dark := 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if r, g, bl, _ := img.At(x, y).RGBA(); r+g+bl > 3*0xe000 {
				continue
			}
			if x < side || x >= b.Dx()-side || y < top || y >= b.Dy()-top {
				outside++
			} else {
				dark++
			}
		}
	}
	return float64(dark) / float64(b.Dx()*b.Dy()), outside
}

// A sheet made again is the same file.
func TestSheetsAreTheSameBytes(t *testing.T) {
	n := whole(t)
	n.Job = "Reiher \u2013 \u0446\u0430\u043f\u043b\u044f \u03b5\u03c1\u03c9\u03b4\u03b9\u03cc\u03c2 caf\u00e9"
	first, client := jobSheetOf(t, n, Options{}), clientSheetOf(t, n, Options{})
	for range 4 {
		require.Equal(t, first, jobSheetOf(t, n, Options{}))
		require.Equal(t, client, clientSheetOf(t, n, Options{}))
	}
	require.Contains(t, squeezed(readBack(t, first)), squeezed(n.Job), "Latin, Cyrillic and Greek print")
}

// Names that people type do not break a sheet.
func TestSheetsTakeAnyName(t *testing.T) {
	for _, name := range []string{
		"\u4f60\u597d \U0001f426 bird", "two\nlines\tand\x1b[2J", strings.Repeat("long name ", 40), strings.Repeat("x", 300), "\u202eabc", string([]byte{'a', 0xff, 'b'}),
	} {
		n := whole(t)
		n.Job, n.Machine, n.Stack, n.Picture.File, n.Picture.Rights = name, name, name, name, name
		n.Painting.Coats[0].Name = name
		n.Files[0].Name = name
		jobSheetOf(t, n, Options{})
		clientSheetOf(t, n, Options{})
	}
}

func TestSheetsNeedAProof(t *testing.T) {
	for _, img := range []*image.RGBA{nil, image.NewRGBA(image.Rect(0, 0, 0, 3))} {
		require.ErrorIs(t, Job(&bytes.Buffer{}, whole(t), Options{Proof: img}), errNoProof)
		require.ErrorIs(t, Client(&bytes.Buffer{}, whole(t), Options{Proof: img}), errNoProof)
	}
}

// Panels of all shapes are drawn.
func TestPanelDrawingsOfAllShapes(t *testing.T) {
	for _, size := range []layout.Size{{W: 40, H: 900}, {W: 18, H: 900}, {W: 15.4, H: 1800}, {W: 900, H: 60}, {W: 50, H: 50}, {W: 1500, H: 1200}} {
		n := noteOf(t, size, layout.Bed{W: 4000, H: 4000})
		jobSheetOf(t, n, Options{})
	}
}
