package fit

import (
	"context"
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// world is a stack and a machine as they truly are; a chart burned there is made by
// the program's own exposure and coat model, not by the fit's.
type world struct {
	stack   coat.Stack
	machine burn.Machine
	model   *coat.Model
	doses   []float64 // true break-throughs
	fields  map[layout.MM][]float64
}

func aMachine() burn.Machine {
	return burn.Machine{
		Name: "test", OpticalPowerW: 5, BeamAlong: 0.08, BeamAcross: 0.08,
		Bed: layout.Size{W: 400, H: 400}, RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100,
	}
}

func newWorld(t testing.TB, s coat.Stack, m burn.Machine) *world {
	t.Helper()
	model, err := s.Compile(coat.Options{})
	require.NoError(t, err)
	w := &world{stack: s, machine: m, model: model, fields: map[layout.MM][]float64{}}
	for i := range s.Coats {
		w.doses = append(w.doses, model.BreakThrough(i))
	}
	return w
}

// field is the doses within one dot of a solid swatch, as shares of their mean.
func (w *world) field(t testing.TB, pitch layout.MM) []float64 {
	t.Helper()
	if w.fields[pitch] == nil {
		solid := plane.NewBits(41, 41)
		for y := range 41 {
			for x := range 41 {
				solid.Set(x, y)
			}
		}
		err := burn.ExposeRelative(context.Background(), w.machine, pitch, burn.OneBit(solid), image.Rect(20, 20, 21, 21),
			burn.ChooseGrid(w.machine, pitch), func(_ int, shares []float32) error {
				for _, v := range shares {
					w.fields[pitch] = append(w.fields[pitch], float64(v))
				}
				return nil
			})
		require.NoError(t, err)
	}
	return w.fields[pitch]
}

// look is the true look of a solid swatch, and the share of area of each layer.
func (w *world) look(t testing.TB, s burn.Setting) (look colour.Linear, coverage []float64) {
	t.Helper()
	field := w.field(t, s.Pitch)
	part := 1 / float64(len(field))
	coverage = make([]float64, len(w.stack.Coats)+1)
	mean := burn.Dose(w.machine, s, w.stack.Curve.Passes())
	for _, share := range field {
		shown := w.model.ShowThrough(mean * share)
		look = look.Add(shown.Look.Scale(part))
		for i, c := range shown.Coverage {
			coverage[i] += part * c
		}
	}
	return look, coverage
}

// read burns and reads swatches, each off by CIEDE2000 of least to most.
func (w *world) read(t testing.TB, random *rand.Rand, least, most float64, settings ...burn.Setting) swatch.Readings {
	t.Helper()
	m := w.machine
	r := swatch.Readings{Machine: &m}
	for i, s := range settings {
		look, _ := w.look(t, s)
		l := off(random, look, least+(most-least)*random.Float64())
		r.Swatches = append(r.Swatches, swatch.Reading{
			ID: fmt.Sprintf("%c%d", 'A'+i/10, i%10+1), Setting: s, OpticalPowerW: m.OpticalPowerW, LinearRGB: &l,
		})
	}
	return r
}

// off is a colour away from another by a CIEDE2000 into a random direction.
func off(random *rand.Rand, l colour.Linear, by float64) colour.Linear {
	lab := l.Lab()
	dir := colour.Lab{L: random.NormFloat64(), A: random.NormFloat64(), B: random.NormFloat64()}
	at := func(f float64) colour.Lab {
		return colour.Lab{L: lab.L + f*dir.L, A: lab.A + f*dir.A, B: lab.B + f*dir.B}
	}
	f := 0.1
	for range 20 {
		f *= by / math.Max(colour.DE2000(lab, at(f)), 1e-9)
	}
	return at(f).Linear()
}

func settings(speed layout.MMPerSecond, pitch layout.MM, passes int, powers ...float64) []burn.Setting {
	var all []burn.Setting
	for _, p := range powers {
		all = append(all, burn.Setting{PowerPercent: p, Speed: speed, Pitch: pitch, Passes: passes})
	}
	return all
}

func powers(from, to, step float64) []float64 {
	var all []float64
	for p := from; p <= to+1e-9; p += step {
		all = append(all, p)
	}
	return all
}

// stackOf makes a stack of coats 25 um thick with given break-throughs.
func stackOf(doses, spreads []float64, colours []colour.Stored) coat.Stack {
	s := coat.Stack{Name: "test", Ground: coat.Ground{Name: "board", Colour: colours[len(doses)]}}
	s.Curve.Points = []coat.Point{{DoseJCM2: doses[0] / 2, DepthUM: 0}}
	for i, d := range doses {
		s.Coats = append(s.Coats, coat.Coat{Name: fmt.Sprintf("paint %d", i+1), Colour: colours[i], ThicknessUM: 25})
		s.Curve.Points = append(s.Curve.Points, coat.Point{DoseJCM2: d, DepthUM: 25 * float64(i+1)})
	}
	s.Curve.Spread = spreads
	return s
}

// anyWorld is a random stack of n coats. Neighbours differ enough to be told apart
// by eye, which is what such panels are painted for.
func anyWorld(t testing.TB, random *rand.Rand, n int) *world {
	t.Helper()
	var doses, spreads []float64
	d := 20 + 25*random.Float64()
	for range n {
		doses = append(doses, d)
		d *= 1.45 + 0.45*random.Float64()
		spreads = append(spreads, 0.08+0.12*random.Float64())
	}
	colours := []colour.Stored{anyColour(random)}
	for len(colours) <= n {
		c := anyColour(random)
		if colour.DE2000(c.Linear().Lab(), colours[len(colours)-1].Linear().Lab()) > 20 {
			colours = append(colours, c)
		}
	}
	m := aMachine()
	// From a beam as narrow as the pitch, with strong ripple, to one twice as wide.
	m.BeamAcross = layout.MM(0.08 + 0.08*random.Float64())
	m.BeamAlong = m.BeamAcross
	// The last coat gives way at 45 % of power at 25 mm/s and 0.08 mm.
	m.OpticalPowerW = doses[n-1] * 25 * 0.08 / 100 / 0.45
	return newWorld(t, stackOf(doses, spreads, colours), m)
}

func anyColour(random *rand.Rand) colour.Stored {
	return colour.Stored{R: uint8(20 + random.IntN(226)), G: uint8(20 + random.IntN(226)), B: uint8(20 + random.IntN(226))}
}

// guess is what the maker knows beforehand: colours off by CIEDE2000 3, doses by up
// to twice either way, all spreads 0.15.
func (w *world) guess(random *rand.Rand) coat.Stack {
	s := w.stack.Clone()
	f := math.Exp((2*random.Float64() - 1) * math.Ln2)
	for i := range s.Curve.Points {
		s.Curve.Points[i].DoseJCM2 *= f * math.Exp(0.3*float64(i)*(random.Float64()-0.5)/float64(len(s.Coats)))
	}
	for i := 1; i < len(s.Curve.Points); i++ {
		s.Curve.Points[i].DoseJCM2 = math.Max(s.Curve.Points[i].DoseJCM2, 1.05*s.Curve.Points[i-1].DoseJCM2)
	}
	for i := range s.Coats {
		s.Coats[i].Colour = off(random, s.Coats[i].Colour.Linear(), 3).Stored()
		s.Curve.Spread[i] = 0.15
	}
	s.Ground.Colour = off(random, s.Ground.Colour.Linear(), 3).Stored()
	return s
}
