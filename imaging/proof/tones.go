package proof

import (
	"fmt"
	"math"
	"sync"

	"undercoat/imaging/colour"
)

// turnBack is how far, in L*, the lightness must run back before the tints count
// as having passed a turning point. The looks of neighbouring tints scatter by some
// hundredths, because a tile is small.
const turnBack = 0.5

// Tones says which tint to burn for a wanted lightness, so that equal steps in
// the picture come out as equal steps in L* on the panel.
type Tones struct {
	// Dark and Light are the lightnesses that are reached, L*.
	Dark, Light float64
	// DarkTint and LightTint are the tints which reach them, 0..65535.
	DarkTint, LightTint uint16
	// Note says in words what of the stack's looks is left unused; empty when
	// the lightness rises or falls all the way.
	Note string

	tint  []float64 // tints of the stretch, from Dark to Light
	lstar []float64 // their lightness, never falling
}

// Even works the table out backwards, over the longest part of the tints, in
// L*, on which the lightness rises or falls all the way. It never crosses a
// turning point.
func (t *TintTable) Even() Tones {
	lstar := make([]float64, tints)
	for i, l := range t.looks {
		lstar[i] = colour.LStar(l.Y())
	}
	from, to := longestStretch(lstar)
	tones := stretchTones(lstar, from, to)
	tones.Note = note(lstar, from, to, tones)
	return tones
}

// longestStretch finds the tints from..to between two turning points with the
// largest difference in lightness.
func longestStretch(lstar []float64) (from, to int) {
	turns := turningPoints(lstar)
	for i := range len(turns) - 1 {
		a, b := turns[i], turns[i+1]
		if math.Abs(lstar[b]-lstar[a]) > math.Abs(lstar[to]-lstar[from]) {
			from, to = a, b
		}
	}
	if from == to {
		return 0, len(lstar) - 1
	}
	return from, to
}

// turningPoints lists the first tint, every one after which the lightness runs
// back by more than turnBack, and the last tint.
func turningPoints(lstar []float64) []int {
	turns := []int{0}
	low, high := 0, 0 // darkest and lightest tint since the last turning point
	for i, l := range lstar {
		if l < lstar[low] {
			low = i
		}
		if l > lstar[high] {
			high = i
		}
		start := lstar[turns[len(turns)-1]]
		switch {
		case lstar[high]-start > turnBack && lstar[high]-l > turnBack:
			turns = append(turns, high)
			low = i
		case start-lstar[low] > turnBack && l-lstar[low] > turnBack:
			turns = append(turns, low)
			high = i
		}
	}
	return append(turns, len(lstar)-1)
}

// stretchTones reads the stretch from its dark to its light end and holds the
// lightness up, so that it never falls on the way.
func stretchTones(lstar []float64, from, to int) Tones {
	step := 1
	if lstar[from] > lstar[to] {
		from, to = to, from
	}
	if from > to {
		step = -1
	}
	var t Tones
	for i := from; ; i += step {
		l := lstar[i]
		if n := len(t.lstar); n > 0 {
			l = math.Max(l, t.lstar[n-1])
		}
		t.tint = append(t.tint, float64(i)*257)
		t.lstar = append(t.lstar, l)
		if i == to {
			break
		}
	}
	last := len(t.tint) - 1
	t.Dark, t.Light = t.lstar[0], t.lstar[last]
	t.DarkTint, t.LightTint = uint16(t.tint[0]), uint16(t.tint[last])
	return t
}

func note(lstar []float64, from, to int, t Tones) string {
	if t.Light-t.Dark < 1 {
		return "this setting hardly changes the lightness: choose more power or other coats"
	}
	if from == 0 && to == len(lstar)-1 {
		return ""
	}
	return fmt.Sprintf("lightness does not rise or fall all the way: even tones use tints from %.0f %% to %.0f %%, lightness %.0f to %.0f",
		100*float64(from)/(tints-1), 100*float64(to)/(tints-1), t.Dark, t.Light)
}

// BrightBurns tells whether the bright parts of a picture get more burned dots
// than the dark ones.
func (t Tones) BrightBurns() bool { return t.LightTint > t.DarkTint }

// Tint is the tint, 0..65535, for a wanted lightness, 0..1 of the reachable
// range: 0 gives Dark and 1 gives Light.
func (t Tones) Tint(lightness float64) uint16 {
	if !(lightness > 0) { // below, or not a number
		lightness = 0
	}
	want := t.Dark + (t.Light-t.Dark)*math.Min(1, lightness)
	i := 0
	for i < len(t.lstar)-2 && t.lstar[i+1] < want {
		i++
	}
	return t.tintIn(i, want)
}

// tintIn is the tint for a lightness between the tints i and i+1 of the stretch.
func (t Tones) tintIn(i int, want float64) uint16 {
	if len(t.lstar) == 1 {
		return t.DarkTint
	}
	f := 0.0
	if span := t.lstar[i+1] - t.lstar[i]; span > 0 {
		f = math.Min(1, math.Max(0, (want-t.lstar[i])/span))
	}
	return uint16(math.Round(t.tint[i] + f*(t.tint[i+1]-t.tint[i])))
}

// Table is Tint for every wanted lightness 0..65535.
func (t Tones) Table() *[65536]uint16 {
	table := new([65536]uint16)
	i := 0
	for v := range table {
		want := t.Dark + (t.Light-t.Dark)*float64(v)/math.MaxUint16
		for i < len(t.lstar)-2 && t.lstar[i+1] < want {
			i++
		}
		table[v] = t.tintIn(i, want)
	}
	return table
}

// LinearTable is the tint for every value of a picture in linear light,
// 0..65535: its L*, as a share of 100, is the wanted lightness.
func (t Tones) LinearTable() *[65536]uint16 {
	table := new([65536]uint16)
	byLightness, lightness := t.Table(), lightnessTable()
	for v := range table {
		table[v] = byLightness[lightness[v]]
	}
	return table
}

// lightnessTable is the L* of every linear value, as a share of 100 in 1/65535.
var lightnessTable = sync.OnceValue(func() *[65536]uint16 {
	table := new([65536]uint16)
	for v := range table {
		lstar := colour.LStar(float64(v) / math.MaxUint16)
		table[v] = uint16(math.Round(min(1, max(0, lstar/100)) * math.MaxUint16))
	}
	return table
})

// TurnedRound is the tones with light and dark exchanged, for a maker who wants
// the picture the other way round.
func (t Tones) TurnedRound() Tones {
	n := len(t.tint)
	turned := t
	turned.tint, turned.lstar = make([]float64, n), make([]float64, n)
	for i := range n {
		turned.tint[i] = t.tint[n-1-i]
		turned.lstar[i] = t.Dark + t.Light - t.lstar[n-1-i]
	}
	turned.DarkTint, turned.LightTint = t.LightTint, t.DarkTint
	return turned
}
