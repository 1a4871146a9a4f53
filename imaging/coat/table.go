package coat

import "math"

// LookTable answers Look and the coverage for millions of samples. It is
// indexed by the bits of the dose as a float32: exponent and leading bits of the
// mantissa count evenly within an octave, so that a piecewise straight line in
// what is nearly ln D costs no logarithm. The table may be used by any number
// of goroutines at once.
//
// As long as no spread is below 0.01 and the Yule-Nielsen n at most 2, it is off
// from Look by less than 0.0005 of linear light in every part; by up to 0.01 in the
// one cell in which a coat of wider spread would overtake the one above it, where
// the model itself has a kink. A sharper break-through is drawn as a straight line
// across its cell, which is 1/2048 of the dose wide at the finest.
type LookTable struct {
	low, high float32 // doses outside have the look of the nearest end
	base      uint32  // bits of low
	shift     uint32  // from bits to cell
	mask      uint32  // the bits below that
	perStep   float32 // from those to 0..1
	cells     []cell
	coverage  []float32 // layers values a node
	layers    int
}

// cell is the look at the lower end and the way to the upper one.
type cell struct{ r, g, b, dr, dg, db float32 }

const (
	mantissaBits  = 23
	coarsestBits  = 7  // 128 cells an octave
	finestBits    = 11 // 2048
	cellPerSpread = 0.07
)

// Table makes the fast form of the model.
func (m *Model) Table() *LookTable {
	low, high, narrowest := m.range32()
	bits := uint32(coarsestBits)
	// A cell is 1/2^bits of its octave's lower end wide, in ln D at most that.
	for bits < finestBits && 1/float64(uint(1)<<bits) > cellPerSpread*narrowest {
		bits++
	}
	t := &LookTable{low: low, high: high, base: math.Float32bits(low), shift: mantissaBits - bits, layers: m.Coats() + 1}
	t.mask, t.perStep = 1<<t.shift-1, 1/float32(uint(1)<<t.shift)
	nodes := int((math.Float32bits(high)-t.base)>>t.shift) + 1
	t.fill(m, nodes)
	return t
}

// range32 is the range of doses, whole octaves, in which the look changes at
// all, and the narrowest spread in it.
func (m *Model) range32() (low, high float32, narrowest float64) {
	const tail = 6 // standard deviations: 1e-9 of the area is left out
	lowest, highest := math.Inf(1), 0.0
	narrowest = 1
	for _, b := range append([]breakThrough{m.scorch}, m.breaks...) {
		if math.IsInf(b.doseJCM2, 1) {
			continue
		}
		lowest = math.Min(lowest, b.doseJCM2*math.Exp(-tail*b.spread))
		highest = math.Max(highest, b.doseJCM2*math.Exp(tail*b.spread))
		narrowest = math.Min(narrowest, b.spread)
	}
	if highest == 0 { // nothing ever gives way
		lowest, highest = 1, 1
	}
	octave := func(v float64) float32 { return float32(math.Exp2(math.Floor(math.Log2(v)))) }
	return octave(math.Max(lowest, 1e-12)) / 2, 4 * octave(math.Min(highest, 1e15)), narrowest
}

func (t *LookTable) fill(m *Model, nodes int) {
	t.cells = make([]cell, nodes)
	t.coverage = make([]float32, nodes*t.layers)
	shares := make([]float64, t.layers)
	for i := range nodes {
		dose := float64(math.Float32frombits(t.base + uint32(i)<<t.shift))
		c := m.lookOf(shares, m.coverage(dose, shares))
		t.cells[i].r, t.cells[i].g, t.cells[i].b = float32(c.R), float32(c.G), float32(c.B)
		for j, v := range shares {
			t.coverage[i*t.layers+j] = float32(v)
		}
	}
	for i := range nodes - 1 {
		a, b := &t.cells[i], t.cells[i+1]
		a.dr, a.dg, a.db = b.r-a.r, b.g-a.g, b.b-a.b
	}
}

// find gives the cell of a dose and the way through it, 0..1.
func (t *LookTable) find(dose float32) (node uint32, way float32) {
	if !(dose > t.low) { // below, or not a number
		dose = t.low
	}
	if dose > t.high {
		dose = t.high
	}
	at := math.Float32bits(dose) - t.base
	return at >> (t.shift & 31), float32(int32(at&t.mask)) * t.perStep
}

// At is the look under a dose in J/cm2, in linear light. What is not a dose,
// negative or not a number, leaves the panel as it is.
func (t *LookTable) At(dose float32) (r, g, b float32) {
	node, way := t.find(dose)
	c := &t.cells[node]
	return c.r + way*c.dr, c.g + way*c.dg, c.b + way*c.db
}

// Light is a look in linear light, 0..1, in half the memory of a colour.Linear:
// for rows of samples.
type Light struct{ R, G, B float32 }

// Looks puts the looks under unit times each of doses, in J/cm2, into into. It is
// At for a row of doses, without the calls.
func (t *LookTable) Looks(doses []float32, unit float32, into []Light) {
	cells, low, high, base, mask, perStep := t.cells, t.low, t.high, t.base, t.mask, t.perStep
	shift := t.shift & 31
	into = into[:len(doses)]
	for i, d := range doses {
		d *= unit
		if !(d > low) {
			d = low
		}
		if d > high {
			d = high
		}
		at := math.Float32bits(d) - base
		c := &cells[at>>shift]
		way := float32(int32(at&mask)) * perStep
		into[i] = Light{c.r + way*c.dr, c.g + way*c.dg, c.b + way*c.db}
	}
}

// Layers is the number of shares that CoverageAt gives: the coats and the ground.
func (t *LookTable) Layers() int { return t.layers }

// CoverageAt puts the shares of the coats, from the top down, and of the ground
// into into, which holds at least Layers() values.
func (t *LookTable) CoverageAt(dose float32, into []float32) {
	node, way := t.find(dose)
	at := int(node) * t.layers
	here := t.coverage[at : at+t.layers]
	copy(into, here)
	if way == 0 {
		return
	}
	next := t.coverage[at+t.layers : at+2*t.layers]
	for i, v := range here {
		into[i] += way * (next[i] - v)
	}
}
