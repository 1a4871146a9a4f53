package sheet

import (
	"fmt"
	"io"

	"undercoat/imaging/export"
)

// promise is what a proof can hold and what it cannot.
const promise = "A proof is a careful prediction, not a photograph. Paint is sprayed by hand and never evenly thick, every burn differs a little from the last, " +
	"and screens and printers show colours in their own way. The panel will show this picture at this size in these paints; " +
	"single tones and the finest lines may come out somewhat lighter, darker or softer than here, and no two panels are quite alike."

// guess is added for a stack whose curve was not fitted to a burned chart.
const guess = "The paints of this proof have not been measured yet: "

// Client writes the proof sheet that a client signs.
func Client(w io.Writer, n export.Note, o Options) error {
	if o.Proof == nil || o.Proof.Rect.Empty() {
		return errNoProof
	}
	p, err := newPaper("Proof sheet: "+n.Job, o, day(n))
	if err != nil {
		return err
	}
	p.pdf.AddPage()
	y := p.clientHead(n)
	if y, err = p.clientPictures(y, o); err != nil {
		return err
	}
	f := &flow{paper: p, cols: 2, top: y, y: y}
	c := clientSheet{f, n}
	c.panel()
	c.paints()
	c.picture()
	c.honest()
	c.price()
	c.sign()
	cautions(f, "For the workshop", export.Cautions(), smaller)
	p.foot(n.Job + "  \u00b7  proof sheet, Undercoat")
	return p.write(w)
}

// clientHead is the head of a proof sheet; it gives where the pictures begin.
func (p *paper) clientHead(n export.Note) float64 {
	y := margin - 4
	p.stripe(y, paints(n))
	y += 9
	p.at(face{size: 9, shade: grey}, margin, y, "proof sheet")
	y += 9
	p.at(title, margin, y, p.shortened(title, n.Job, p.w-2*margin))
	return y + 5
}

// wallBox is the room for a picture of a wall on a page, in mm.
func wallBox(pageW, pageH float64) (w, h float64) {
	return (pageW - 2*margin - gutter) / 2, min(118.0, pageH*0.4)
}

// WallSize is the size in pixels that a client's picture of a wall is best made in.
func WallSize(letter bool) (w, h int) {
	size := paperSize(letter)
	boxW, boxH := wallBox(size.Wd, size.Ht)
	const perMM = 12 // about 300 dots per inch
	return int(boxW * perMM), int(boxH * perMM)
}

// clientPictures shows the panel and, beside it, the wall it is to hang on.
func (p *paper) clientPictures(y float64, o Options) (float64, error) {
	wide := p.w - 2*margin
	half, high := wallBox(p.w, p.h)
	if o.Wall != nil {
		if _, _, _, _, err := p.picture("wall", o.Wall, margin+half+gutter, y, half, high); err != nil {
			return 0, err
		}
		wide = half
	}
	x, py, w, h, err := p.picture("proof", o.Proof, margin, y, wide, high)
	if err != nil {
		return 0, err
	}
	p.pdf.SetLineWidth(0.15)
	p.pdf.SetDrawColor(int(grey.R), int(grey.G), int(grey.B))
	p.pdf.Rect(x, py, w, h, "D")
	return y + high + 5, nil
}

// clientSheet fills the columns of a proof sheet.
type clientSheet struct {
	*flow
	n export.Note
}

func (c clientSheet) panel() {
	c.head("Panel", 16)
	c.itemIn(strong, "size", c.unit.FormatSize(c.n.Panel))
	c.item("kind", string(c.n.PanelKind))
	if c.n.EdgeDepth > 0 {
		c.item("edge", c.unit.Format(c.n.EdgeDepth)+" deep, painted")
	}
	c.item("border", sides(c.n.BorderTrue, c.unit))
	c.item("picture", c.unit.FormatSize(c.n.Size))
}

func (c clientSheet) paints() {
	if c.n.Painting == nil {
		return
	}
	c.head("Paints, from the top coat down", 12)
	for _, coat := range c.n.Painting.Coats {
		c.swatch(coat.Colour)
		c.row(plain, []cell{{0.08, 1, false}}, coat.Name)
	}
}

func (c clientSheet) picture() {
	if c.n.Picture == nil {
		return
	}
	c.head("Picture", 10)
	c.item("file", c.n.Picture.File)
	rights := c.n.Picture.Rights
	if rights == "" {
		rights = "the client confirms that the picture may be used for this panel"
	}
	c.item("rights", rights)
}

func (c clientSheet) honest() {
	c.head("What this proof can promise", 16)
	if !c.n.Calibrated {
		c.text(strong, guess+export.Uncalibrated+".")
	}
	c.text(plain, promise)
}

func (c clientSheet) price() {
	p := c.n.Price
	if p == nil {
		return
	}
	c.head("Price", 16)
	cells := []cell{{0, 0.45, false}, {0.4, 0.74, true}, {0.76, 1, true}}
	for _, l := range p.Lines {
		c.row(plain, cells, l.What, l.Sum(), fmt.Sprintf("%.2f", l.Amount))
	}
	c.line(c.x(), c.y+0.6, c.x()+c.wide(), c.y+0.6, 0.2, ink)
	c.y += 1.2
	c.row(figure, []cell{{0, 0.5, false}, {0.4, 1, true}}, "in all", fmt.Sprintf("%.2f %s", p.Total, p.Currency))
}

// sign leaves room for a name, a day and a signature.
func (c clientSheet) sign() {
	c.head("Agreed", 26)
	c.text(plain, "I have seen this proof and order the panel as it is shown and described here.")
	c.y += 12
	c.room(6)
	third := c.wide() * 0.36
	c.line(c.x(), c.y, c.x()+third, c.y, 0.25, ink)
	c.line(c.x()+third+4, c.y, c.x()+c.wide(), c.y, 0.25, ink)
	c.at(smaller, c.x(), c.y+3, "day")
	c.at(smaller, c.x()+third+4, c.y+3, "name and signature")
	c.y += 5
}
