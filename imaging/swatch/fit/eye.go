package fit

import "math"

// What an eye may be taken to mistake: a word in fifty is a slip of the pen, so
// that one wrong word cannot drag a break-through across the chart.
const slips = 0.02

// judged is the probability of the word an eye chose for a swatch: an ordered
// probit along ln dose. Its thresholds are the doses at which the wanted shares of
// a coat are gone, and the eye's judgement scatters about them. Where row is not
// nil it receives the slopes.
//
// Source: P. McCullagh, "Regression models for ordinal data", J. R. Statist. Soc. B
// 42, 1980, with the normal link (from memory).
func (m *model) judged(x []float64, s *sample, row []float64) float64 {
	clear(row)
	lnDose, byOffset, byExponent := m.lnDose(x, s)
	width := math.Exp(x[m.eyeAt()])
	high, below := m.threshold(x, s.bands, s.word.high)
	low, above := m.threshold(x, s.bands, s.word.low)
	zHigh, zLow := (high.lnDose-lnDose)/width, (low.lnDose-lnDose)/width
	// Coats close together never show alone. What an eye then calls by such a
	// coat's name is the place between, as wide as its judgement.
	tight := below && above && zHigh-zLow < 1
	if tight {
		middle := (zHigh + zLow) / 2
		zHigh, zLow = middle+0.5, middle-0.5
	}
	if !below {
		zHigh = math.Inf(1) // nothing lies deeper
	}
	if !above {
		zLow = math.Inf(-1)
	}
	const keep = 1 - slips
	p := slips/float64(2*m.coats+1) + keep*(normal(zHigh)-normal(zLow))
	if row == nil {
		return p
	}
	fHigh, fLow := keep*density(zHigh)/width, -keep*density(zLow)/width
	byWidth := 0.0
	if fHigh != 0 {
		byWidth -= fHigh * width * (zHigh - 0.5*float64(one(tight)))
	}
	if fLow != 0 {
		byWidth -= fLow * width * (zLow + 0.5*float64(one(tight)))
	}
	row[m.eyeAt()] += byWidth
	if m.offset {
		row[m.offsetAt()] -= (fHigh + fLow) * byOffset
	}
	if m.passes {
		row[m.passesAt()] -= (fHigh + fLow) * byExponent
	}
	if tight {
		fHigh, fLow = (fHigh+fLow)/2, (fHigh+fLow)/2
	}
	high.bend(row, fHigh)
	low.bend(row, fLow)
	return p
}

// threshold is the ln dose at which a depth is reached, and the parameters it
// hangs on.
type threshold struct {
	lnDose       float64
	breakThrough int
	spread       int // -1: the scorch, whose width is given
	bySpread     float64
}

// bend adds f times the threshold's slopes.
func (t threshold) bend(row []float64, f float64) {
	if f == 0 {
		return
	}
	row[t.breakThrough] += f
	if t.spread >= 0 {
		row[t.spread] += f * t.bySpread
	}
}

// threshold is false at both ends of the scale, where there is none.
func (m *model) threshold(x []float64, bands []band, at float64) (threshold, bool) {
	i := int(math.Floor(at))
	if at <= 0 || i > m.coats || i == m.coats && !m.scorch {
		return threshold{}, false
	}
	// A ripple acts as more spread, and as a little less dose in its logarithm.
	mean, square := 0.0, 0.0
	for _, b := range bands {
		mean += b.area * b.lnShare
		square += b.area * b.lnShare * b.lnShare
	}
	ripple := square - mean*mean
	q := quantile(math.Min(math.Max(at-float64(i), 0.02), 0.98))
	if i == m.coats {
		width := math.Sqrt(scorchWidth*scorchWidth + ripple)
		return threshold{x[m.scorchDose()] + 2*scorchWidth - mean + q*width, m.scorchDose(), -1, 0}, true
	}
	spread := math.Exp(x[m.spread(i)])
	width := math.Sqrt(spread*spread + ripple)
	return threshold{x[m.breakThrough(i)] - mean + q*width, m.breakThrough(i), m.spread(i), q * spread * spread / width}, true
}

// quantile undoes normal.
func quantile(share float64) float64 { return math.Sqrt2 * math.Erfinv(2*share-1) }
