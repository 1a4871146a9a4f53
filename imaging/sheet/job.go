package sheet

import (
	"errors"
	"io"
	"time"

	"undercoat/imaging/export"
)

// errNoProof is for a sheet without a picture.
var errNoProof = errors.New("a sheet needs the proof of the whole panel: make one first")

// Job writes the job sheet: what lies beside the machine.
func Job(w io.Writer, n export.Note, o Options) error {
	if o.Proof == nil || o.Proof.Rect.Empty() {
		return errNoProof
	}
	p, err := newPaper("Job sheet: "+n.Job, o, day(n))
	if err != nil {
		return err
	}
	p.pdf.AddPage()
	y := p.masthead("job sheet", n)
	y = p.figures(y, headline(n, o.Unit))
	high := min(92.0, p.h*0.33)
	half := (p.w - 2*margin - gutter) / 2
	x, py, pw, ph, err := p.picture("proof", o.Proof, margin, y, half, high)
	if err != nil {
		return err
	}
	p.pdf.SetLineWidth(0.15)
	p.pdf.SetDrawColor(int(grey.R), int(grey.G), int(grey.B))
	p.pdf.Rect(x, py, pw, ph, "D")
	p.drawPanel(n, margin+half+gutter, y-4, half, high+4)
	y += high + 5
	f := &flow{paper: p, cols: 2, top: y, y: y}
	j := jobSheet{f, n}
	j.panel()
	j.setting()
	j.paint()
	j.times()
	j.walk()
	j.sections()
	j.files()
	j.after()
	j.source()
	j.cautions()
	j.notes()
	p.foot(n.Job + "  \u00b7  job sheet, Undercoat")
	return p.write(w)
}

// day is the day that a sheet bears.
func day(n export.Note) time.Time {
	if n.Timetable != nil {
		return n.Timetable.Start.Time
	}
	return made
}
