package fit

import (
	"fmt"
	"strings"
)

// sayPaints tells which colours are the labels', which were worked out from mixtures,
// and how to measure them. Of coats that were not reached, or that no swatch tells
// from the one above, the notes have said already what to burn.
func (f *fitted) sayPaints(n *notes, r Result, hidden map[int]bool) {
	if !f.hasPhoto() {
		n.leaveOpen("all colours are the labels', for the swatches were read by eye: read a photograph of the chart, or pick the colours")
		return
	}
	var unseen, mixed []string
	for layer := range f.coats + 1 {
		p := f.paintOf(r, layer)
		switch {
		case p.Measured:
		case layer > 0 && (!r.Coats[layer-1].Reached || hidden[layer-1] && hidden[layer]):
			unseen = append(unseen, f.label(layer))
		default:
			if words := f.sayPaint(n, layer, p); words != "" {
				mixed = append(mixed, words)
			}
		}
	}
	switch len(unseen) {
	case 0:
	case 1:
		n.leaveOpen("the colour of %s is the label's, for no swatch shows it", unseen[0])
	default:
		n.leaveOpen("the colours of %s are the labels', for no swatch shows them", listed(unseen))
	}
	if len(mixed) > 0 {
		n.say("never seen alone, but worked out from mixtures: the colour of %s", listed(mixed))
	}
}

// listed is "a", "a and b", "a, b and c".
func listed(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

func (f *fitted) paintOf(r Result, layer int) Paint {
	if layer == f.coats {
		return r.Ground
	}
	return r.Coats[layer].Paint
}

func (f *fitted) label(layer int) string {
	if layer == f.coats {
		return "the ground"
	}
	return named(f.in.stack.Coats[layer].Name, layer)
}

// sayPaint tells of one colour why it is not measured and what would measure it. Of
// one that mixtures tell, and that no power would show alone, it hands back the words.
func (f *fitted) sayPaint(n *notes, layer int, p Paint) (mixed string) {
	why := "no swatch shows it alone"
	switch {
	case p.Alone == 1:
		why = "one swatch only shows it alone"
	case p.Alone >= leastAlone:
		why = fmt.Sprintf("only %d swatches show it alone", p.Alone)
	}
	powers, most, at := f.powersAlone(layer)
	advice := "burn swatches at " + list(powers)
	told := p.told(f.labelSD(layer))
	if len(powers) == 0 {
		if told {
			return fmt.Sprintf("%s (to CIEDE2000 %.1f)", f.label(layer), p.SDDE00)
		}
		why += fmt.Sprintf(", nor would any power (%s %% shows most of it, on %.0f %% of a swatch)", percent(at), 100*most)
		advice = "compare it with a painted patch"
	}
	if told {
		n.say("the colour of %s is worked out from mixtures, to CIEDE2000 %.1f, for %s: %s", f.label(layer), p.SDDE00, why, advice)
		return ""
	}
	n.leaveOpen("the colour of %s is the label's, for %s: %s", f.label(layer), why, advice)
	return ""
}

// powersAlone are powers not burned yet, at the chart's usual setting, at which a
// layer would cover nearly all of a swatch, three at most; and the power at which it
// would cover most.
func (f *fitted) powersAlone(layer int) (powers []float64, most, at float64) {
	l := f.layers(f.x)
	var all []float64
	for _, s := range f.candidates() {
		ln, _, _ := f.lnDose(f.x, &s)
		f.mix(f.x, &l, ln, s.bands, f.shares, nil)
		if share := f.shares[layer]; share > most {
			most, at = share, s.setting.PowerPercent
		}
		if f.shares[layer] >= aloneShare {
			all = append(all, s.setting.PowerPercent)
		}
	}
	const wanted = 3
	if len(all) <= wanted {
		return all, most, at
	}
	for k := range wanted {
		powers = append(powers, all[(2*k+1)*len(all)/(2*wanted)])
	}
	return powers, most, at
}
