package job

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// Detail is a part of the picture that tells a maker most about how the panel will
// come out.
type Detail struct {
	Centre layout.Point // on the panel
	Share  float64      // of the picture's detail that lies in it, 0..1
	Layers int          // coats and ground that show on a twentieth of it or more
}

// String says what speaks for it.
func (d Detail) String() string {
	return fmt.Sprintf("%.0f %% of the picture's detail, %d of the layers show", 100*d.Share, d.Layers)
}

// detailWide is the width, in pixels, of the view in which the detail is looked for.
const detailWide = 480

// shownShare is the share of area from which a layer counts as showing.
const shownShare = 0.05

// TellingDetail finds the part of a size that shows most: its steps of lightness, by how
// many coats it goes through. A picture without any detail is tried in its middle.
func (v *Developed) TellingDetail(ctx context.Context, pl layout.Placement, size layout.Size) (Detail, error) {
	view, err := v.viewTints(ctx, detailWide)(v.Table)
	if err != nil {
		return Detail{}, err
	}
	s, err := v.sumsOf(ctx, view)
	if err != nil {
		return Detail{}, err
	}
	area := pl.Grid.Size()
	perMM := float64(view.W) / float64(area.W)
	w := min(view.W, max(1, int(math.Round(float64(size.W)*perMM))))
	h := min(view.H, max(1, int(math.Round(float64(size.H)*perMM))))
	x, y := s.best(w, h)
	at := s.within(x, y, w, h)
	d := Detail{Centre: layout.Point{
		X: pl.Corners[0].X + layout.MM((float64(x)+float64(w)/2)/perMM),
		Y: pl.Corners[0].Y - layout.MM((float64(y)+float64(h)/2)/perMM),
	}}
	if all := s.within(0, 0, s.w, s.h).detail; all > 0 {
		d.Share = at.detail / all
	}
	for _, share := range at.layers {
		if share/float64(w*h) >= shownShare {
			d.Layers++
		}
	}
	return d, nil
}

// sums are running sums over a view: of its steps of lightness, and of the area on which
// each layer shows.
type sums struct {
	w, h   int
	fields [][]float64 // (h+1) x (w+1) each: steps, then a field a layer
}

// found is what lies in a window.
type found struct {
	detail float64
	layers []float64
}

// hardestStep is the step of lightness past which an edge shows no more detail.
// Common practice, no source.
const hardestStep = 15.0

func (v *Developed) sumsOf(ctx context.Context, view *plane.Grey16) (*sums, error) {
	layers := len(v.Document.Stack.Coats) + 1
	s := &sums{w: view.W, h: view.H, fields: make([][]float64, 1+layers)}
	for i := range s.fields {
		s.fields[i] = make([]float64, (view.W+1)*(view.H+1))
	}
	lightness := make([]float64, len(view.Pix))
	for i, tint := range view.Pix {
		lightness[i] = colour.LStar(v.Table.Look(tint).Y())
	}
	at := func(x, y int) float64 { return lightness[min(y, view.H-1)*view.W+min(x, view.W-1)] }
	row := make([]float64, len(s.fields))
	for y := range view.H {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		clear(row)
		for x := range view.W {
			step := math.Hypot(at(x+1, y)-at(x, y), at(x, y+1)-at(x, y))
			row[0] += math.Min(step, hardestStep)
			for i, share := range v.Table.Coverage(view.Row(y)[x]) {
				row[1+i] += share
			}
			for i, f := range s.fields {
				f[(y+1)*(s.w+1)+x+1] = f[y*(s.w+1)+x+1] + row[i]
			}
		}
	}
	return s, nil
}

func (s *sums) within(x, y, w, h int) found {
	in := func(f []float64) float64 {
		r := s.w + 1
		return f[(y+h)*r+x+w] - f[y*r+x+w] - f[(y+h)*r+x] + f[y*r+x]
	}
	out := found{detail: in(s.fields[0])}
	for _, f := range s.fields[1:] {
		out.layers = append(out.layers, in(f))
	}
	return out
}

// score is the detail times the number of layers that show, each counted by how much of
// it there is: the exponential of the entropy of their shares.
// Source: M. O. Hill, "Diversity and evenness", Ecology 54, 1973, number of order 1 (from
// memory).
func (f found) score() float64 {
	total, entropy := 0.0, 0.0
	for _, v := range f.layers {
		total += v
	}
	for _, v := range f.layers {
		if p := v / total; p > 0 {
			entropy -= p * math.Log(p)
		}
	}
	return f.detail * math.Exp(entropy)
}

// best is the upper left corner of the window with the highest score; of equal ones the
// nearest to the middle.
func (s *sums) best(w, h int) (x, y int) {
	const places = 60 // tried each way
	midX, midY := (s.w-w)/2, (s.h-h)/2
	x, y = midX, midY
	top, near := s.within(x, y, w, h).score(), 0
	for j := range places + 1 {
		for i := range places + 1 {
			px, py := (s.w-w)*i/places, (s.h-h)*j/places
			far := (px-midX)*(px-midX) + (py-midY)*(py-midY)
			// A millionth more is no more: sums are not exact.
			score := s.within(px, py, w, h).score()
			if score > top*(1+1e-6) || score >= top*(1-1e-6) && far < near {
				x, y, top, near = px, py, score, far
			}
		}
	}
	return x, y
}
