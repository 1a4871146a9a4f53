package export

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"undercoat/layout"
)

// WriteCalendar writes a timetable as an iCalendar file, an event for each step, for
// the job of this name. Times are those of the maker's own clock, without a zone.
// The same timetable gives the same bytes.
//
// Source: RFC 5545, 3.1 (folding), 3.3.11 (text), 3.3.5 form 1 (local time), 3.6.1.
func WriteCalendar(w io.Writer, name string, t layout.Timetable) error {
	if len(t.Steps) == 0 {
		return fmt.Errorf("the timetable has no steps: make one with a start")
	}
	c := calendar{}
	c.line("BEGIN:VCALENDAR")
	c.line("VERSION:2.0")
	c.line("PRODID:-//Undercoat//Timetable//EN")
	c.line("CALSCALE:GREGORIAN")
	for i, s := range t.Steps {
		c.line("BEGIN:VEVENT")
		c.text("UID", fmt.Sprintf("%s-%d-%s@undercoat", t.Steps[0].Start.Format(localForm), i+1, slug(name)))
		c.line("DTSTAMP:" + t.Steps[0].Start.UTC().Format(localForm) + "Z")
		c.line("DTSTART:" + s.Start.Format(localForm))
		c.line("DTEND:" + s.End().Format(localForm))
		c.text("SUMMARY", fmt.Sprintf("%s: %s", name, s.String()))
		about := append([]string(nil), s.Cautions...)
		if s.What == layout.Burn {
			about = append(about, Cautions()...)
		}
		if len(about) > 0 {
			c.text("DESCRIPTION", strings.Join(about, "\n"))
		}
		if !s.What.Hands() {
			c.line("TRANSP:TRANSPARENT") // drying keeps nobody from other work
		}
		c.line("END:VEVENT")
	}
	c.line("END:VCALENDAR")
	_, err := io.WriteString(w, c.out.String())
	return err
}

// localForm is a time without a zone.
const localForm = "20060102T150405"

// calendar gathers content lines.
type calendar struct{ out strings.Builder }

// foldAt is the longest line in bytes, the break not counted.
const foldAt = 75

// line writes a content line, folded between letters.
func (c *calendar) line(text string) {
	room := foldAt
	for len(text) > room {
		cut := room
		for !utf8.RuneStart(text[cut]) {
			cut--
		}
		c.out.WriteString(text[:cut] + "\r\n ")
		text, room = text[cut:], foldAt-1
	}
	c.out.WriteString(text + "\r\n")
}

// text writes a property whose value is text.
func (c *calendar) text(name, value string) {
	value = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(value, "?"))
	c.line(name + ":" + strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(value))
}

// slug is a name in plain letters and digits.
func slug(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9':
			return r
		}
		return '-'
	}, name)
}
