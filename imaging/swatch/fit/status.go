package fit

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"undercoat/imaging/colour"
)

// How far the swatches may be off, in CIEDE2000. ISO 12647-7 asks a proof for a mean
// of 2.5 (from memory); a chart has scratches and dust as well.
const (
	poorDE00  = 3.0
	wrongDE00 = 8.0 // of the middle swatch: this is another stack, or another machine
)

// plausible refuses a fit that describes next to nothing.
func (f *fitted) plausible() error {
	var r Result
	f.compare(&r)
	var off []float64
	for i, s := range r.Swatches {
		if !f.samples[i].eye {
			off = append(off, s.DE00)
		}
	}
	sort.Float64s(off)
	if n := len(off); n > 0 && (off[n/2] > wrongDE00 || r.ResidualDE00 > 1.5*wrongDE00) {
		return fmt.Errorf("the readings do not fit this stack at any dose: half of the swatches are off by CIEDE2000 %.1f or more, so check that colours, order of coats, machine and settings are those of the chart",
			off[n/2])
	}
	// Beside many colours that fit, words that do not are a note, not a refusal: in a
	// fine mesh an eye is a poor judge of shares.
	if r.WordsRead > len(off) && 2*r.WordsAgreed < r.WordsRead {
		return fmt.Errorf("the words do not fit this stack at any dose: only %d of %d agree with a burn that gets deeper with the dose, so check the order of coats and the settings",
			r.WordsAgreed, r.WordsRead)
	}
	return nil
}

// notes collects sentences; open ones keep a fit from being good.
type notes struct {
	all  []string
	open bool
}

func (n *notes) say(format string, args ...any) { n.all = append(n.all, fmt.Sprintf(format, args...)) }

func (n *notes) leaveOpen(format string, args ...any) {
	n.say(format, args...)
	n.open = true
}

// status puts into words what is not known and what to do about it.
func (f *fitted) status(r Result, gone [][]float64) (Grade, []string) {
	var n notes
	far, astray := r.ResidualDE00 > poorDE00, r.WordsRead > 0 && 4*r.WordsAgreed < 3*r.WordsRead
	poor := far || astray
	if far {
		n.leaveOpen("the swatches lie CIEDE2000 %.1f from the model on average: check the stack's colours and order, and the photograph", r.ResidualDE00)
	}
	if astray {
		n.leaveOpen("only %d of the %d words agree with what the other swatches show: look at those swatches again, or pick their colours", r.WordsAgreed, r.WordsRead)
	}
	f.sayReach(&n, r, gone)
	hidden := f.sayTogether(&n, r, gone)
	f.saySpreads(&n, r, gone, hidden)
	f.sayPaints(&n, r, hidden)
	f.sayColours(&n)
	saySwatches(&n, r)
	if r.PowerOffsetFitted {
		n.say("the chart shows a power scale that starts at %.1f %%: set the machine's power offset to it, for the doses hold with it alone", r.PowerOffsetPercent)
	}
	if f.in.stack.Curve.ScorchDoseJCM2 > 0 && !r.ScorchReached {
		n.say("the ground has not darkened on the chart: the scorch dose is assumed")
	}
	f.sayInput(&n)
	switch {
	case poor:
		return Poor, n.all
	case n.open:
		return Fair, n.all
	}
	return Good, n.all
}

// sayReach tells which coats the chart begins or ends in the midst of.
func (f *fitted) sayReach(n *notes, r Result, gone [][]float64) {
	last := len(f.samples) - 1
	for i, c := range r.Coats {
		switch {
		case !c.Reached:
			what := fmt.Sprintf("burn swatches above %s %%", percent(f.power(last)))
			if f.power(last) > 90 {
				what = "burn swatches at a lower speed"
			}
			n.leaveOpen("%s was not reached: up to %s %% it still stands, so its dose is a guess: %s", name(c, i), percent(f.power(last)), what)
		case gone[i][0] > 0.75:
			n.leaveOpen("%s had given way on the lowest swatch already, %s %%: burn swatches below", name(c, i), percent(f.power(0)))
		}
	}
}

// sayTogether tells which coats give way one with the next, so that no swatch
// shows the lower one. hidden are the coats that this has been said of.
func (f *fitted) sayTogether(n *notes, r Result, gone [][]float64) (hidden map[int]bool) {
	hidden = map[int]bool{}
	for i := 0; i+1 < f.coats; i++ {
		if !f.together(r, gone, i) {
			continue
		}
		low, _ := f.gap(gone[i])
		_, high := f.gap(gone[i+1])
		hidden[i], hidden[i+1] = true, true
		n.leaveOpen("%s and %s cannot be told apart between %s and %s %%: burn swatches at %s",
			name(r.Coats[i], i), name(r.Coats[i+1], i+1), percent(low), percent(high), list(powersBetween(low, high)))
	}
	return hidden
}

func (f *fitted) saySpreads(n *notes, r Result, gone [][]float64, hidden map[int]bool) {
	for i, c := range r.Coats {
		if !c.Reached || hidden[i] {
			continue
		}
		low, high := f.gap(gone[i])
		powers := list(powersBetween(low, high))
		switch wide := math.Sqrt(c.High/c.Low) - 1; {
		case c.SpreadAssumed:
			n.leaveOpen("the spread of %s is assumed, for %s inside its break-through between %s and %s %%: burn swatches at %s",
				name(c, i), swatchesLie(c.Inside), percent(low), percent(high), powers)
		case wide > 0.15:
			n.leaveOpen("the dose of %s is known to %.0f %% only: burn swatches at %s", name(c, i), 100*wide, powers)
		case c.DrawnLnSD > 0.05 && c.DrawnLnSD > 4*c.LnSD:
			n.say("the dose of %s hangs on single swatches: burn more at %s", name(c, i), powers)
		}
	}
}

func swatchesLie(count int) string {
	if count == 1 {
		return "one swatch alone lies"
	}
	return "no swatch lies"
}

// sayColours warns of neighbours that look alike, for a break-through between them
// can hardly be seen, and of paints far from what the stack says they are.
func (f *fitted) sayColours(n *notes) {
	const strange = 10.0 // CIEDE2000
	for i := range f.coats {
		if d := f.apartFromNext(i); d < alikeDE00 {
			n.leaveOpen("%s and %s look almost alike (CIEDE2000 %.1f), so where one gives way to the other is hard to see", f.label(i), f.label(i+1), d)
		}
	}
	for i := range f.coats + 1 {
		was := f.in.stack.Ground.Colour
		if i < f.coats {
			was = f.in.stack.Coats[i].Colour
		}
		if d := colour.DE2000(f.lab(i), was.Linear().Lab()); d > strange {
			n.leaveOpen("%s reads as %v and the stack has it as %v (CIEDE2000 %.1f apart): check that the chart is of this stack", f.label(i), f.stored(i), was, d)
		}
	}
}

func saySwatches(n *notes, r Result) {
	// On a very even chart a swatch may be let go of that an eye would pass.
	const seen = 3.0 // CIEDE2000
	var apart []string
	for _, s := range r.Swatches {
		if s.Agrees || s.DE00 > 0 && s.DE00 < seen {
			continue
		}
		if s.DE00 > 0 {
			apart = append(apart, fmt.Sprintf("%s (CIEDE2000 %.1f)", s.ID, s.DE00))
		} else {
			apart = append(apart, s.ID)
		}
	}
	if len(apart) == 0 {
		return
	}
	const most = 5
	also := ""
	if len(apart) > most {
		also = fmt.Sprintf(" and %d more", len(apart)-most)
		apart = apart[:most]
	}
	text := fmt.Sprintf("swatches that do not fit the others: %s%s: look at them, and burn them again if they are damaged", strings.Join(apart, ", "), also)
	if 10*len(apart) > len(r.Swatches) {
		n.leaveOpen("%s", text)
		return
	}
	n.say("%s", text)
}

func (f *fitted) sayInput(n *notes) {
	if f.in.leftOut > 0 {
		n.say("left out as unreadable: %d", f.in.leftOut)
	}
	if f.in.tints > 0 {
		n.say("swatches of tints, which say nothing of the curve: %d", f.in.tints)
	}
	if f.in.lines > 0 {
		n.say("lines, whose widths say nothing of the curve: %d", f.in.lines)
	}
	for i := range f.samples {
		if f.samples[i].machine == nil {
			n.say("the beam's width is unknown, so the dose was taken as even over a swatch")
			return
		}
	}
}

// power is the power at the chart's usual setting that gives the dose of a swatch.
func (f *fitted) power(i int) float64 {
	usual := f.usual()
	ln, _, _ := f.lnDose(f.x, &f.samples[i])
	full := *usual
	full.setting.PowerPercent = 100
	top, _, _ := f.lnDose(f.x, &full)
	offset := usual.offset
	if f.offset {
		offset = f.x[f.offsetAt()]
	}
	return offset + (100-offset)*math.Exp(ln-top)
}

// gap is the powers between which half of a coat goes: those of the last swatch
// before and the first one after. At an end of the chart it reaches half as far out.
func (f *fitted) gap(gone []float64) (low, high float64) {
	at := sort.Search(len(gone), func(k int) bool { return gone[k] >= 0.5 })
	low, high = f.power(0)/1.5, math.Min(100, f.power(len(gone)-1)*1.5)
	if at > 0 {
		low = f.power(at - 1)
	}
	if at < len(gone) {
		high = f.power(at)
	}
	return low, high
}

// powersBetween are round powers strictly between two, at most six.
func powersBetween(low, high float64) []float64 {
	for _, step := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20} {
		var all []float64
		for k := math.Floor(low/step) + 1; k*step < high-step/100; k++ {
			if v := math.Round(k*step*10) / 10; v > low+step/100 {
				all = append(all, v)
			}
		}
		if n := len(all); n <= 6 {
			if n == 0 {
				all = []float64{math.Round((low+high)*50) / 100}
			}
			return all
		}
	}
	return []float64{math.Round((low + high) / 2)}
}

func list(powers []float64) string {
	var words []string
	for _, p := range powers {
		words = append(words, percent(p))
	}
	return strings.Join(words, ", ") + " %"
}

func percent(p float64) string { return strconv.FormatFloat(math.Round(p*100)/100, 'g', -1, 64) }

func name(c Coat, i int) string { return named(c.Name, i) }

func named(word string, i int) string {
	if word == "" {
		return fmt.Sprintf("coat %d", i+1)
	}
	return word
}
