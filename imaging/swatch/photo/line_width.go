package photo

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// lineLevel is where the edges of all lines of a chart are.
type lineLevel struct {
	channel int
	plain   []int   // the swatches that stand out most
	again   []bool  // of each swatch: its lines' middles have changed again
	burned  float64 // how far the burned paint is from the bare, in shares of it
	noise   float64 // of a segment's bare paint, in the same
}

// commonLevel finds what burned lines look like: what the third of them does that
// stands out most. Luminance is taken unless a colour tells much more.
func commonLevel(profiles [][]lineProfile, powers []float64) lineLevel {
	best := levelIn(profiles, powers, luminance)
	const much = 2.5
	for c := red; c < channels; c++ {
		if l := levelIn(profiles, powers, c); math.Abs(l.burned) > much*math.Abs(best.burned) {
			best = l
		}
	}
	return best
}

func levelIn(profiles [][]lineProfile, powers []float64, channel int) lineLevel {
	l := lineLevel{channel: channel, again: changedAgain(profiles, powers, channel)}
	var noises []float64
	for i, of := range profiles {
		if l.again[i] || slices.ContainsFunc(of, func(p lineProfile) bool { return p.outside }) {
			continue
		}
		l.plain = append(l.plain, i)
		for _, p := range of {
			noises = append(noises, p.roughness(channel))
		}
	}
	if len(l.plain) == 0 {
		return l
	}
	slices.SortFunc(l.plain, func(a, b int) int {
		return cmp.Compare(math.Abs(peakOf(profiles[b], channel)), math.Abs(peakOf(profiles[a], channel)))
	})
	l.plain = l.plain[:(len(l.plain)+2)/3]
	var peaks []float64
	for _, i := range l.plain {
		peaks = append(peaks, peakOf(profiles[i], channel))
	}
	l.burned, l.noise = median(peaks), median(noises)
	return l
}

// changedAgain tells which swatches have more power than the one that stands out most,
// and stand out plainly less, or more power than such a one: scorch, or a coat darker
// than the one above it, has begun in the middle of their lines and would draw their
// edges inwards.
func changedAgain(profiles [][]lineProfile, powers []float64, channel int) []bool {
	const plainly = 0.95
	most, at := 0.0, 0.0
	for i, of := range profiles {
		if p := math.Abs(peakOf(of, channel)); p > most {
			most, at = p, powers[i]
		}
	}
	from := math.Inf(1)
	for i, of := range profiles {
		if powers[i] > at && math.Abs(peakOf(of, channel)) < plainly*most {
			from = min(from, powers[i])
		}
	}
	again := make([]bool, len(profiles))
	for i := range again {
		again[i] = powers[i] >= from
	}
	return again
}

// peakOf is how far the lines of a swatch are from bare where they are farthest.
func peakOf(profiles []lineProfile, channel int) float64 {
	var peaks []float64
	for _, p := range profiles {
		if p.outside {
			return 0
		}
		peaks = append(peaks, extreme(p.mean[channel]))
	}
	return median(peaks)
}

// beneathBlur raises the level to what the plainest lines would be without the blur:
// of an even line d wide, erf(d/(2 sqrt 2 soft)) is left in its middle.
func (l lineLevel) beneathBlur(profiles [][]lineProfile, soft float64) lineLevel {
	const rounds, leastLeft = 4, 0.6
	for range rounds {
		var peaks []float64
		for _, i := range l.plain {
			var widths []float64
			for _, p := range profiles[i] {
				w, _ := p.widths(l)
				widths = append(widths, w...)
			}
			if len(widths) > 0 {
				left := math.Erf(unblurred(median(widths), soft) / (2 * math.Sqrt2 * soft))
				peaks = append(peaks, peakOf(profiles[i], l.channel)/max(left, leastLeft))
			}
		}
		if len(peaks) == 0 {
			return l
		}
		l.burned = median(peaks)
	}
	return l
}

// unblurred is how wide an even line is that is so wide at half its own height after
// a Gaussian blur of a standard deviation.
func unblurred(width, soft float64) float64 {
	low, high := width, width+3*soft
	k := 2 * math.Sqrt2 * soft
	for range 40 {
		mid := (low + high) / 2
		if math.Erf((mid+width)/k)+math.Erf((mid-width)/k) < 1 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// lineWidth is what was measured of the lines of one setting.
type lineWidth struct {
	width, scatter float64 // mm
	narrow         bool    // too narrow, at width or less
	faint          bool    // not seen, or hardly
	reason         string  // why there is no width, or nothing
}

// measure takes the median over the segments of a swatch's lines. soft is the standard
// deviation in mm of the photograph's blur.
func measure(profiles []lineProfile, level lineLevel, soft float64) lineWidth {
	const clippedMost, leastBare = 0.05, 0.0015
	var widths, edges []float64
	total, perMM := 0, math.Inf(1)
	for _, p := range profiles {
		switch {
		case p.outside:
			return lineWidth{reason: "outside the photograph"}
		case p.clipped > clippedMost:
			return lineWidth{reason: fmt.Sprintf("too bright for the photograph: %.0f %% of it is clipped, expose less", 100*p.clipped)}
		case p.bare < leastBare:
			return lineWidth{reason: "too dark for the photograph: the bare paint beside it is black, expose more"}
		}
		perMM = min(perMM, p.perMM)
		total += len(p.segments)
		w, e := p.widths(level)
		widths, edges = append(widths, w...), append(edges, e...)
	}
	// 0.68 is left of a line two deviations of the blur wide.
	const plain, sure = 0.68, 6.0
	if peak := peakOf(profiles, level.channel) / level.burned; !(peak > plain) || math.Abs(level.burned) < sure*level.noise/2 {
		return lineWidth{faint: true, reason: fmt.Sprintf("too faint: it stands out from the bare paint by %.0f %% of what the plainest do, burned less deep or too narrow for the photograph", 100*max(peak, 0))}
	}
	if 2*len(widths) < total {
		return lineWidth{faint: true, reason: fmt.Sprintf("too faint: it shows both its edges along %.0f %% of its length", 100*share(len(widths), total))}
	}
	out := lineWidth{width: median(widths)}
	raw := out.width
	for i, w := range widths {
		widths[i] = math.Abs(w - raw)
	}
	out.scatter = 1.4826 * median(widths)
	out.width = unblurred(raw, soft)
	// A quarter and three quarters of a Gaussian edge lie 1.349 deviations apart.
	blur := max(soft, median(edges)/1.349)
	const leastBlurs, leastPixels = 2.0, 2.0
	if out.width < leastBlurs*blur || out.width*perMM < leastPixels {
		out.narrow = true
		out.reason = fmt.Sprintf("narrower than the photograph resolves: %.1f pixels, with edges that are soft over %.1f", out.width*perMM, 2*blur*perMM)
	}
	return out
}

// widths are those of the segments that show both edges, and how wide their edges
// are from a quarter to three quarters of the way.
func (p lineProfile) widths(level lineLevel) (widths, edges []float64) {
	mean := shared(p.mean[level.channel], level.burned)
	backwards := slices.Clone(mean)
	slices.Reverse(backwards)
	low, okLow := firstRise(mean, 0.5)
	high, okHigh := firstRise(backwards, 0.5)
	if !okLow || !okHigh {
		return nil, nil
	}
	for _, s := range p.segments {
		profile := shared(s[level.channel], level.burned)
		a, okA := riseNear(profile, 0.5, low)
		slices.Reverse(profile)
		b, okB := riseNear(profile, 0.5, high)
		if w := float64(len(profile)-1) - a - b; okA && okB && w > 0 {
			widths = append(widths, w*p.step)
		}
	}
	for _, side := range [][]float64{mean, backwards} {
		a, okA := firstRise(side, 0.25)
		b, okB := firstRise(side, 0.75*min(1, extreme(side)))
		if okA && okB && b > a {
			edges = append(edges, (b-a)*p.step)
		}
	}
	if len(edges) == 0 {
		edges = []float64{0}
	}
	return widths, edges
}

func shared(values []float64, whole float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = v / whole
	}
	return out
}

// firstRise is where a profile first passes a level, from the rim's inner end on. It
// must stay above for one value more, so that noise does not count.
func firstRise(profile []float64, level float64) (float64, bool) {
	for i := rimOf(len(profile)) / 2; i+2 < len(profile); i++ {
		if a, b := profile[i], profile[i+1]; a < level && b >= level && profile[i+2] >= level {
			return float64(i) + (level-a)/(b-a), true
		}
	}
	return 0, false
}

// riseNear is the place nearest to another where a profile passes a level upwards.
func riseNear(profile []float64, level, near float64) (place float64, ok bool) {
	best := math.Inf(1)
	for i := 0; i+1 < len(profile); i++ {
		if a, b := profile[i], profile[i+1]; a < level && b >= level {
			at := float64(i) + (level-a)/(b-a)
			if off := math.Abs(at - near); off < best {
				best, place, ok = off, at, true
			}
		}
	}
	return place, ok
}
