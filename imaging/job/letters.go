package job

import (
	"context"
	"fmt"
	"maps"
	"path"
	"strings"

	"undercoat/assets"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// FontFile is a font of the maker's own that the job holds.
type FontFile struct {
	Name   string `json:"name"`   // what lines call it; in the job's file it is fonts/NAME
	SHA256 string `json:"sha256"` // of its bytes, in hex
}

// maxFonts bounds the fonts of the maker's own in a job.
const maxFonts = 20

func (d Document) letteringError() error {
	if len(d.Lettering) > lettering.MaxLines {
		return fmt.Errorf("%d lines are too many: a job may have %d", len(d.Lettering), lettering.MaxLines)
	}
	for i, l := range d.Lettering {
		if err := l.Validate(); err != nil {
			return fmt.Errorf("line %d: %w", i+1, err)
		}
	}
	if len(d.Fonts) > maxFonts {
		return fmt.Errorf("%d fonts are too many: a job may hold %d of your own", len(d.Fonts), maxFonts)
	}
	seen := map[string]bool{}
	for _, f := range d.Fonts {
		if f.Name == "" || f.Name != path.Base(f.Name) || strings.HasPrefix(f.Name, ".") || seen[f.Name] {
			return fmt.Errorf("font name %q cannot be used: give each font of your own a plain name of its own", f.Name)
		}
		seen[f.Name] = true
	}
	return nil
}

// WithFont is the job with a font of the maker's own in it, under a name that lines
// can use.
func (j *Job) WithFont(name string, data []byte) (*Job, error) {
	if _, err := lettering.ParseFont(name, data); err != nil {
		return nil, err
	}
	copied := *j
	out := &copied
	out.Document, out.Fonts = j.Document.Clone(), maps.Clone(j.Fonts)
	if out.Fonts == nil {
		out.Fonts = map[string][]byte{}
	}
	out.Fonts[name] = data
	file := FontFile{name, Checksum(data)}
	for i, f := range out.Document.Fonts {
		if f.Name == name {
			out.Document.Fonts[i] = file
			return out, out.Document.Validate()
		}
	}
	out.Document.Fonts = append(out.Document.Fonts, file)
	return out, out.Document.Validate()
}

// Letters places the job's lettering on the panel.
func (d Document) Letters(fonts map[string][]byte) ([]lettering.Placed, error) {
	if len(d.Lettering) == 0 {
		return nil, nil
	}
	known := lettering.NewFonts(assets.Font)
	for name, data := range fonts {
		if err := known.Add(name, data); err != nil {
			return nil, fmt.Errorf("font %q: %w", name, err)
		}
	}
	placed, err := lettering.Layout(d.Lettering, known)
	if err != nil {
		return nil, fmt.Errorf("lettering: %w", err)
	}
	return placed, nil
}

// LetterCautions says what of the lettering will not come out as it is meant: what
// lies outside the picture area, and what is too thin for the beam.
func (d Document) LetterCautions(placed []lettering.Placed, pl layout.Placement) []string {
	beam := max(d.Machine.BeamAlong, d.Machine.BeamAcross)
	var out []string
	for _, p := range placed {
		out = append(out, p.Cautions...)
		out = append(out, lettering.CheckPlace(p, pl)...)
		out = append(out, lettering.CheckStroke(p, beam, d.Setting.Pitch)...)
	}
	return out
}

// LetteredView is a view of the tints of a part of the panel with the lettering over
// them.
func LetteredView(ctx context.Context, placed []lettering.Placed, tints *plane.Grey16, part layout.Area) (*plane.Grey16, error) {
	if len(placed) == 0 {
		return tints, nil
	}
	burn, keep, err := lettering.Draw(ctx, placed, part, tints.W, tints.H)
	if err != nil {
		return nil, err
	}
	return lettering.OverTints(tints, burn, keep)
}

// letterDots are the dots of lettering: those that burn whatever the picture holds
// and those that do not.
type letterDots struct{ burn, keep *plane.Bits }

func rasterLetters(ctx context.Context, placed []lettering.Placed, pl layout.Placement) (letterDots, error) {
	if len(placed) == 0 {
		return letterDots{}, nil
	}
	burn, keep, err := lettering.Rasterise(ctx, placed, pl)
	return letterDots{burn, keep}, err
}

// over lays the lettering over dots, all of which burns where burns is true, and
// none of which where it is false: a step that letters have no part in.
func (l letterDots) over(dots *plane.Bits, burns bool) (*plane.Bits, error) {
	if l.burn == nil {
		return dots, nil
	}
	if burns {
		return lettering.OverDots(dots, l.burn, l.keep)
	}
	none := plane.NewBits(dots.W, dots.H)
	clear, err := lettering.OverDots(dots, none, l.keep)
	if err != nil {
		return nil, err
	}
	return lettering.OverDots(clear, none, l.burn)
}

// overShares lays the lettering over shares of power: letters burn with all of it.
func (l letterDots) overShares(shares *plane.Grey16) {
	if l.burn == nil {
		return
	}
	for y := range shares.H {
		row := shares.Row(y)
		for x := range row {
			switch {
			case l.burn.At(x, y):
				row[x] = 0xffff
			case l.keep.At(x, y):
				row[x] = 0
			}
		}
	}
}
