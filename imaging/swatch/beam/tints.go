package beam

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// TintLook is what an even tint looks like once burned.
type TintLook struct {
	Tint float64 // 0.05..0.95
	Look colour.Linear
}

// TintFit is what a row of tints tells.
type TintFit struct {
	Along, Across layout.MM // the beam, D4sigma, in the machine's proportion
	WidthSD       float64   // standard error of either, as a share of it
	ResidualLab   float64   // root mean square distance of the looks in CIELAB
	Tints         []TintPoint
}

// TintPoint sets a tint's look beside the fit's.
type TintPoint struct {
	Tint float64
	Seen colour.Linear
	Fit  colour.Linear
}

// The widths that are tried, for the beam across the lines.
const (
	leastWidth = 0.02
	mostWidth  = 0.8
)

// FromTints finds the beam width under which the tints of a row come out as they
// look: a wider one makes dots grow into their gaps. The model is of the stack as
// it was fitted; where its curve was fitted with another beam, fit it again with
// this one and repeat until neither moves.
func FromTints(ctx context.Context, m burn.Machine, s burn.Setting, model *coat.Model, screen swatch.Screen, looks []TintLook) (TintFit, error) {
	row, err := newTintRow(ctx, m, s, model, screen, looks)
	if err != nil {
		return TintFit{}, err
	}
	best, err := row.search(ctx)
	if err != nil {
		return TintFit{}, err
	}
	fit, err := row.describe(ctx, best)
	if err != nil {
		return TintFit{}, err
	}
	const tooFar = 12 // in CIELAB; a fair fit leaves some 2
	if best < math.Log(leastWidth)+edge || best > math.Log(mostWidth)-edge || fit.ResidualLab > tooFar {
		return TintFit{}, fmt.Errorf("no beam of %g to %g mm gives these tints: check that the stack's curve was fitted on this machine, and at this setting", leastWidth, mostWidth)
	}
	return fit, nil
}

// edge is how near to the ends of the range, in its logarithm, nothing is found.
const edge = 0.02

// FromReadings is FromTints for the readings of a tint row.
func FromReadings(ctx context.Context, r swatch.Readings, m burn.Machine, model *coat.Model, screen swatch.Screen) (TintFit, error) {
	var looks []TintLook
	var setting burn.Setting
	for _, s := range r.Swatches {
		if s.Tint > 0 && s.LinearRGB != nil {
			looks, setting = append(looks, TintLook{s.Tint, *s.LinearRGB}), s.Setting
		}
	}
	return FromTints(ctx, m, setting, model, screen, looks)
}

// tintRow is a row ready to be looked at under any beam.
type tintRow struct {
	machine burn.Machine
	setting burn.Setting
	dose    float64
	table   *coat.LookTable
	looks   []TintLook
	tiles   []*plane.Bits
}

func newTintRow(ctx context.Context, m burn.Machine, s burn.Setting, model *coat.Model, screen swatch.Screen, looks []TintLook) (*tintRow, error) {
	if len(looks) < 3 {
		return nil, fmt.Errorf("%d tints tell nothing for sure: read 3 or more", len(looks))
	}
	if err := m.Validate(); err != nil {
		return nil, fmt.Errorf("machine: %w", err)
	}
	if err := s.Validate(m); err != nil {
		return nil, err
	}
	if screen == nil {
		return nil, errors.New("tints need the screen that they were burned with: choose it")
	}
	row := &tintRow{
		machine: m, setting: s, looks: looks, table: model.Table(),
		dose: burn.Dose(m, s, model.Stack().Curve.Passes()),
	}
	for _, l := range looks {
		if !(l.Tint >= swatch.MinTint && l.Tint <= swatch.MaxTint) {
			return nil, fmt.Errorf("tint %g is out of range: give %g to %g", l.Tint, swatch.MinTint, swatch.MaxTint)
		}
		tints := plane.NewGrey16(tileSide, tileSide)
		for i := range tints.Pix {
			tints.Pix[i] = uint16(math.Round(l.Tint * 65535))
		}
		tile, err := screen(ctx, tints)
		if err != nil {
			return nil, fmt.Errorf("tint %g: %w", l.Tint, err)
		}
		if tile.W != tileSide || tile.H != tileSide {
			return nil, fmt.Errorf("the screen made %d x %d dots of %d x %d", tile.W, tile.H, tileSide, tileSide)
		}
		row.tiles = append(row.tiles, tile)
	}
	return row, nil
}

// A tile of dots, and its rim, in which a screen settles and the beam finds no
// neighbours.
const tileSide, tileRim = 96, 16

// predict gives the looks under a beam, of which the logarithm of its width across
// the lines is given.
func (r *tintRow) predict(ctx context.Context, lnWidth float64) ([]colour.Linear, error) {
	m := r.machine
	m.BeamAcross = layout.MM(math.Exp(lnWidth))
	const least, most layout.MM = 0.01, 2 // what a machine may have
	m.BeamAlong = min(max(m.BeamAcross*r.machine.BeamAlong/r.machine.BeamAcross, least), most)
	k := burn.ChooseGrid(m, r.setting.Pitch)
	ex, err := burn.NewExposer(m, r.setting.Pitch, k)
	if err != nil {
		return nil, err
	}
	looks := make([]colour.Linear, len(r.tiles))
	err = plane.SplitRows(ctx, len(r.tiles), func(ctx context.Context, from, to int) error {
		var buf burn.Buffer
		lights := make([]coat.Light, k*(tileSide-2*tileRim))
		for i := from; i < to; i++ {
			look, err := r.meanLook(ctx, ex, r.tiles[i], &buf, lights)
			if err != nil {
				return err
			}
			looks[i] = look
		}
		return nil
	})
	return looks, err
}

func (r *tintRow) meanLook(ctx context.Context, ex *burn.Exposer, tile *plane.Bits, buf *burn.Buffer, lights []coat.Light) (colour.Linear, error) {
	var sum colour.Linear
	n := 0
	region := image.Rect(0, 0, tileSide, tileSide).Inset(tileRim)
	err := ex.Expose(ctx, burn.OneBit(tile), region, buf, func(_ int, shares []float32) error {
		r.table.Looks(shares, float32(r.dose), lights[:len(shares)])
		for _, l := range lights[:len(shares)] {
			sum.R, sum.G, sum.B = sum.R+float64(l.R), sum.G+float64(l.G), sum.B+float64(l.B)
		}
		n += len(shares)
		return nil
	})
	return sum.Scale(1 / float64(n)), err
}

// cost is the sum of squared distances in CIELAB.
func (r *tintRow) cost(ctx context.Context, lnWidth float64) (float64, error) {
	looks, err := r.predict(ctx, lnWidth)
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for i, l := range looks {
		a, b := l.Lab(), r.looks[i].Look.Lab()
		sum += (a.L-b.L)*(a.L-b.L) + (a.A-b.A)*(a.A-b.A) + (a.B-b.B)*(a.B-b.B)
	}
	return sum, nil
}

// search tries widths in even steps of their logarithm, as there may be more than
// one valley, and closes in on the best by the golden section.
func (r *tintRow) search(ctx context.Context) (float64, error) {
	low, high := math.Log(leastWidth), math.Log(mostWidth)
	const steps = 12
	best, least := 0, math.Inf(1)
	step := (high - low) / steps
	for i := range steps + 1 {
		c, err := r.cost(ctx, low+float64(i)*step)
		if err != nil {
			return 0, err
		}
		if c < least {
			best, least = i, c
		}
	}
	a, b := max(low, low+float64(best-1)*step), min(high, low+float64(best+1)*step)
	const golden, close = 0.6180339887498949, 1e-3
	for b-a > close {
		c, d := b-golden*(b-a), a+golden*(b-a)
		left, err := r.cost(ctx, c)
		if err != nil {
			return 0, err
		}
		right, err := r.cost(ctx, d)
		if err != nil {
			return 0, err
		}
		if left < right {
			b = d
		} else {
			a = c
		}
	}
	return (a + b) / 2, nil
}

// describe gives the fit with its error from how steeply the cost rises.
func (r *tintRow) describe(ctx context.Context, lnWidth float64) (TintFit, error) {
	const step = 0.05
	var costs [3]float64
	for i := range costs {
		var err error
		if costs[i], err = r.cost(ctx, lnWidth+step*float64(i-1)); err != nil {
			return TintFit{}, err
		}
	}
	looks, err := r.predict(ctx, lnWidth)
	if err != nil {
		return TintFit{}, err
	}
	across := layout.MM(math.Exp(lnWidth))
	f := TintFit{
		Across: across, Along: across * r.machine.BeamAlong / r.machine.BeamAcross,
		ResidualLab: math.Sqrt(costs[1] / float64(len(r.looks))), WidthSD: math.Inf(1),
	}
	if bend := (costs[0] - 2*costs[1] + costs[2]) / (step * step); bend > 0 {
		f.WidthSD = math.Sqrt(2 * costs[1] / float64(3*len(r.looks)-1) / bend)
	}
	for i, l := range r.looks {
		f.Tints = append(f.Tints, TintPoint{l.Tint, l.Look, looks[i]})
	}
	return f, nil
}
