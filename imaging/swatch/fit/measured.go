package fit

import (
	"math"

	"undercoat/imaging/colour"
)

// What a colour must be to count as measured. Common practice, no source: an eye
// calls a swatch by one paint's name from the first share on; one swatch may be a
// scratch; and a colour known this closely keeps within CIEDE2000 2 of the paint.
const (
	aloneShare   = 0.85 // of a swatch's area: the paint is nearly pure
	leastAlone   = 2    // swatches
	measuredDE00 = 0.45 // spread
	ofTheLabel   = 0.3  // spread, as a share of what the label alone leaves open
)

// Paint is how well the chart knows the colour of a coat or of the ground.
type Paint struct {
	// Measured is true where swatches that a camera read show the paint nearly pure,
	// and leave its colour little room. Else it leans on the stack that was given, or
	// was worked out from mixtures with other paints.
	Measured bool
	// SDDE00 is the root of the mean square CIEDE2000 that the colour may be off by:
	// from noise and belief, not from a colour cast that all readings share.
	SDDE00 float64
	// Alone is the number of swatches that a camera read and the fit kept on which the
	// paint covers nearly all.
	Alone int
}

// told tells whether the swatches say more of the colour than its label does, alone or
// in mixtures.
func (p Paint) told(label float64) bool { return p.SDDE00 <= ofTheLabel*label }

// paint works out how well the colour of a layer is known. alone is the share of
// each swatch that the layer covers.
func (f *fitted) paint(layer int, covered []float64, kept []bool, u uncertainty) Paint {
	p := Paint{SDDE00: f.paintSD(layer, u)}
	for k, share := range covered {
		p.Alone += one(kept[k] && !f.samples[k].eye && share >= aloneShare)
	}
	p.Measured = p.Alone >= leastAlone && p.SDDE00 <= measuredDE00 && p.told(f.labelSD(layer))
	return p
}

// paintSD is the root of the trace of a colour's covariance, in even steps at it.
func (f *fitted) paintSD(layer int, u uncertainty) float64 {
	at := f.look(layer)
	steps := evenSteps(triple{f.x[at], f.x[at+1], f.x[at+2]}.lab())
	sum := 0.0
	for r := range steps {
		for i := range 3 {
			for j := range 3 {
				sum += steps[r][i] * u.covariance.At(at+i, at+j) * steps[r][j]
			}
		}
	}
	return math.Sqrt(math.Max(sum, 0))
}

// labelSD is the same beforehand: what the label alone leaves open.
func (f *fitted) labelSD(layer int) float64 {
	at := f.look(layer)
	var mean, sd triple
	for _, b := range f.beliefs {
		if k := b.at - at; b.from < 0 && k >= 0 && k < 3 {
			mean[k], sd[k] = b.mean, b.sd
		}
	}
	steps := evenSteps(mean.lab())
	sum := 0.0
	for r := range steps {
		for k := range 3 {
			sum += math.Pow(steps[r][k]*sd[k], 2)
		}
	}
	return math.Sqrt(sum)
}

// coverOf is the share of each swatch on which a layer shows; gone is that of compare.
func coverOf(layer int, gone [][]float64) []float64 {
	cover := make([]float64, len(gone[layer]))
	for k := range cover {
		above := 1.0
		if layer > 0 {
			above = gone[layer-1][k]
		}
		cover[k] = above - gone[layer][k]
	}
	return cover
}

// paints fills in what the chart knows of the colours.
func (f *fitted) paints(r *Result, gone [][]float64, u uncertainty) {
	kept := make([]bool, len(r.Swatches))
	for k, s := range r.Swatches {
		kept[k] = s.Agrees
	}
	for i := range r.Coats {
		r.Coats[i].Paint = f.paint(i, coverOf(i, gone), kept, u)
		r.Coats[i].ToldApart = r.Coats[i].Reached && !f.together(*r, gone, i) && f.apartFromNext(i) >= alikeDE00
	}
	r.Ground = f.paint(f.coats, coverOf(f.coats, gone), kept, u)
}

// together tells whether a coat and the next give way between the same swatches, so
// that none shows the lower one.
func (f *fitted) together(r Result, gone [][]float64, i int) bool {
	const least = 0.25
	if i+1 >= f.coats || !r.Coats[i+1].Reached {
		return false
	}
	most := 0.0
	for k := range f.samples {
		most = math.Max(most, gone[i][k]-gone[i+1][k])
	}
	return most < least
}

// alikeDE00 is the CIEDE2000 under which where one paint gives way to another is hard
// to see.
const alikeDE00 = 5.0

func (f *fitted) apartFromNext(i int) float64 { return colour.DE2000(f.lab(i), f.lab(i+1)) }

func (f *fitted) lab(layer int) colour.Lab {
	at := f.look(layer)
	return triple{f.x[at], f.x[at+1], f.x[at+2]}.lab()
}
