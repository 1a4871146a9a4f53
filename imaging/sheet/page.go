package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"undercoat/assets"
	"undercoat/imaging/colour"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

// Options are what a sheet needs besides the note.
type Options struct {
	Proof  *image.RGBA // the whole panel, border included
	Wall   *image.RGBA // the panel on a wall, of a client's sheet; nil: none
	Unit   layout.Unit
	Letter bool // paper of 8.5 x 11 in, not A4
}

// The greys of a sheet. The only colours on it are the job's own.
var (
	ink   = colour.Stored{R: 0x1c, G: 0x1d, B: 0x20}
	grey  = colour.Stored{R: 0x62, G: 0x65, B: 0x6c}
	faint = colour.Stored{R: 0xc6, G: 0xc9, B: 0xcf}
	pale  = colour.Stored{R: 0xf0, G: 0xf1, B: 0xf3}
	white = colour.Stored{R: 0xff, G: 0xff, B: 0xff}
)

// margin is the free rim of the paper, in mm.
const margin = 14.0

// made is the date that a sheet bears where the note has none: always the same, so that
// a sheet made again is the same file.
var made = time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)

// face is a font at a size.
type face struct {
	bold  bool
	size  float64 // points
	shade colour.Stored
}

// The faces of a sheet.
var (
	plain   = face{size: 8, shade: ink}
	strong  = face{bold: true, size: 8, shade: ink}
	label   = face{size: 8, shade: grey}
	small   = face{size: 6.8, shade: ink}
	smaller = face{size: 6.2, shade: grey}
	heading = face{bold: true, size: 9, shade: ink}
	title   = face{bold: true, size: 21, shade: ink}
	figure  = face{bold: true, size: 12.5, shade: ink}
)

// lineHeight is the distance of two lines, in mm.
func (f face) lineHeight() float64 { return f.size * ptMM * 1.32 }

const ptMM = 25.4 / 72

// paper is a PDF file in the making.
type paper struct {
	pdf   *fpdf.Fpdf
	unit  layout.Unit
	w, h  float64
	fonts map[bool]*lettering.Font
}

// paperSize is that of A4 or of Letter. Source: ISO 216; ANSI/ASME Y14.1, 8.5 x 11 in.
func paperSize(letter bool) fpdf.SizeType {
	if letter {
		return fpdf.SizeType{Wd: 215.9, Ht: 279.4}
	}
	return fpdf.SizeType{Wd: 210, Ht: 297}
}

func newPaper(name string, o Options, day time.Time) (*paper, error) {
	size := paperSize(o.Letter)
	p := &paper{unit: o.Unit, w: size.Wd, h: size.Ht, fonts: map[bool]*lettering.Font{}}
	p.pdf = fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: size})
	p.pdf.SetAutoPageBreak(false, 0)
	p.pdf.SetCellMargin(0)
	p.pdf.SetCatalogSort(true)
	p.pdf.SetCreationDate(day)
	p.pdf.SetModificationDate(day)
	p.pdf.SetProducer("Undercoat", true)
	p.pdf.SetLang("en-GB")
	for bold, file := range map[bool]string{false: "sans", true: "sans-bold"} {
		data, _ := assets.Font(file)
		font, err := lettering.ParseFont(file, data)
		if err != nil {
			return nil, fmt.Errorf("sheet: %w", err)
		}
		p.fonts[bold] = font
		p.pdf.AddUTF8FontFromBytes("sans", style(bold), data)
	}
	p.pdf.SetTitle(p.printable(plain, name), true)
	return p, p.pdf.Error()
}

func style(bold bool) string {
	if bold {
		return "B"
	}
	return ""
}

// write ends the file.
func (p *paper) write(w io.Writer) error {
	var out bytes.Buffer
	if err := p.pdf.Output(&out); err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	_, err := w.Write(out.Bytes())
	return err
}

func (p *paper) use(f face) {
	p.pdf.SetFont("sans", style(f.bold), f.size)
	p.pdf.SetTextColor(int(f.shade.R), int(f.shade.G), int(f.shade.B))
}

// printable is text on one line in letters that the font has.
func (p *paper) printable(f face, text string) string {
	font := p.fonts[f.bold]
	return strings.Map(func(r rune) rune {
		switch {
		case r == ' ' || r == '\u00a0':
			return ' '
		case r == '\u00ad':
			return -1
		case r > 0xffff || !font.Has(r):
			return '?'
		}
		return r
	}, oneLine(text))
}

// oneLine keeps a name that someone typed from breaking the page.
func oneLine(text string) string {
	return strings.Join(strings.Fields(strings.ToValidUTF8(text, "?")), " ")
}

// width is how wide a text runs, in mm.
func (p *paper) width(f face, text string) float64 {
	p.use(f)
	return p.pdf.GetStringWidth(p.printable(f, text))
}

// at writes a line of text from x on; y is its baseline.
func (p *paper) at(f face, x, y float64, text string) {
	text = p.printable(f, text)
	p.use(f)
	p.pdf.Text(x, y, text)
}

// centred writes a line of text about x, ended one that ends there.
func (p *paper) centred(f face, x, y float64, text string) { p.at(f, x-p.width(f, text)/2, y, text) }
func (p *paper) ended(f face, x, y float64, text string)   { p.at(f, x-p.width(f, text), y, text) }

// wrapped breaks a text into lines of a width at its spaces; a word that is longer is
// broken where it must be.
func (p *paper) wrapped(f face, text string, wide float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(oneLine(text)) {
		longer := strings.TrimSpace(line + " " + word)
		if p.width(f, longer) <= wide {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = word
		for n := p.fits(f, line, wide); n < len([]rune(line)); n = p.fits(f, line, wide) {
			lines = append(lines, string([]rune(line)[:n]))
			line = string([]rune(line)[n:])
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// fits is how many letters of a word go into a width, one at least.
func (p *paper) fits(f face, word string, wide float64) int {
	letters := []rune(word)
	n := len(letters)
	for n > 1 && p.width(f, string(letters[:n])) > wide {
		n--
	}
	return n
}

// shortened is a text cut to a width, with an ellipsis where something is gone.
func (p *paper) shortened(f face, text string, wide float64) string {
	if p.width(f, text) <= wide {
		return text
	}
	letters := []rune(text)
	for len(letters) > 1 && p.width(f, string(letters)+"...") > wide {
		letters = letters[:len(letters)-1]
	}
	return strings.TrimSpace(string(letters)) + "..."
}

func (p *paper) line(x0, y0, x1, y1, wide float64, c colour.Stored) {
	p.pdf.SetLineWidth(wide)
	p.pdf.SetDrawColor(int(c.R), int(c.G), int(c.B))
	p.pdf.Line(x0, y0, x1, y1)
}

// box is a filled rectangle; with a rim above 0 it has an outline.
func (p *paper) box(x, y, w, h float64, fill colour.Stored, rim float64, line colour.Stored) {
	p.pdf.SetFillColor(int(fill.R), int(fill.G), int(fill.B))
	how := "F"
	if rim > 0 {
		p.pdf.SetLineWidth(rim)
		p.pdf.SetDrawColor(int(line.R), int(line.G), int(line.B))
		how = "FD"
	}
	p.pdf.Rect(x, y, w, h, how)
}

// picture lays an image into a box, as large as it goes and at its top, and gives what it
// covers.
func (p *paper) picture(name string, img *image.RGBA, x, y, w, h float64) (fx, fy, fw, fh float64, err error) {
	var data bytes.Buffer
	if err := jpeg.Encode(&data, img, &jpeg.Options{Quality: 92}); err != nil {
		return 0, 0, 0, 0, fmt.Errorf("sheet: %w", err)
	}
	p.pdf.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "JPG"}, &data)
	pw, ph := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	scale := min(w/pw, h/ph)
	fw, fh = pw*scale, ph*scale
	fx, fy = x+(w-fw)/2, y
	p.pdf.ImageOptions(name, fx, fy, fw, fh, false, fpdf.ImageOptions{ImageType: "JPG"}, 0, "")
	return fx, fy, fw, fh, p.pdf.Error()
}

// foot numbers the pages, once all are there.
func (p *paper) foot(left string) {
	pages := p.pdf.PageCount()
	for i := 1; i <= pages; i++ {
		p.pdf.SetPage(i)
		y := p.h - 8
		p.line(margin, y-3.4, p.w-margin, y-3.4, 0.15, faint)
		p.at(smaller, margin, y, p.shortened(smaller, left, p.w-2*margin-30))
		p.ended(smaller, p.w-margin, y, fmt.Sprintf("page %d of %d", i, pages))
	}
}
