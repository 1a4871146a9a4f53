package photo

import (
	"errors"
	"fmt"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

// gains bring the photograph's colours to what they are, channel by channel.
type gains struct{ r, g, b float64 }

func (g gains) of(l colour.Linear) colour.Linear {
	return colour.Linear{R: l.R * g.r, G: l.G * g.g, B: l.B * g.b}
}

func (g gains) back(l colour.Linear) colour.Linear {
	return colour.Linear{R: l.R / g.r, G: l.G / g.g, B: l.B / g.b}
}

// toKnown are the gains that take what is seen to what is known to be there.
func toKnown(seen, known colour.Linear) (gains, error) {
	if !(min(seen.R, seen.G, seen.B) > 0) {
		return gains{}, errors.New("a colour of the photograph is quite black where it must not be: expose more")
	}
	return gains{known.R / seen.R, known.G / seen.G, known.B / seen.B}, nil
}

const paperReflectance = 0.9

// gains come from the white paper, or else from the top coat's known colour.
func (r reader) gains(l lamp) (gains, []string, error) {
	top, topKnown := r.options.topCoat(r.chart)
	if r.options.White != nil {
		g, err := r.fromPaper(l)
		if err != nil {
			return gains{}, nil, err
		}
		return g, doubtTopCoat(g, l, top, topKnown), nil
	}
	if !l.trusted {
		return gains{}, nil, errors.New("no unburned paint is seen between the swatches, so there is nothing to judge the light by: mark a white paper in the photograph, or leave gaps between the swatches")
	}
	if !topKnown {
		return gains{}, nil, errors.New("nothing in the photograph has a known colour: mark a white paper in it, or name the stack so that the top coat's colour is known")
	}
	g, err := toKnown(l.reference(), top)
	return g, nil, err
}

func (r reader) fromPaper(l lamp) (gains, error) {
	white := *r.options.White
	var sum colour.Linear
	clipped, n := 0, white.Dx()*white.Dy()
	for y := white.Min.Y; y < white.Max.Y; y++ {
		row := r.light.Row(y)
		for x := white.Min.X; x < white.Max.X; x++ {
			c := colour.Linear{R: float64(row[3*x]), G: float64(row[3*x+1]), B: float64(row[3*x+2])}
			sum = sum.Add(c.Scale(1.0 / 65535))
			if max(row[3*x], row[3*x+1], row[3*x+2]) >= 65500 {
				clipped++
			}
		}
	}
	if s := share(clipped, n); s > 0.02 {
		return gains{}, fmt.Errorf("the white paper is too bright for the photograph, %.0f %% of it is clipped: expose less, or leave the paper out and go by the top coat", 100*s)
	}
	middle := layout.PicturePoint{X: float64(white.Min.X+white.Max.X) / 2, Y: float64(white.Min.Y+white.Max.Y) / 2}
	seen := l.even(sum.Scale(1/float64(n)), r.view.place(middle))
	w := r.options.PaperReflectance
	if w == 0 {
		w = paperReflectance
	}
	return toKnown(seen, colour.Linear{R: w, G: w, B: w})
}

// doubtTopCoat says when paper and stack do not agree on the top coat.
func doubtTopCoat(g gains, l lamp, top colour.Linear, known bool) []string {
	if !known || !l.trusted {
		return nil
	}
	read := g.of(l.reference())
	const plain = 5.0 // CIEDE2000
	if d := colour.DE2000(read.Lab(), top.Lab()); d > plain {
		return []string{fmt.Sprintf("by the white paper the top coat is %v, and the stack has it as %v: correct the stack's colour, or look for shine on the panel", read.Stored(), top.Stored())}
	}
	return nil
}
