package lettering

import (
	"cmp"
	"math/bits"
	"slices"
	"sort"
)

// kerning reads what a font adds between two glyphs, in font units: the kern
// feature of its GPOS table, or else its older kern table. It reads the tables
// where they lie and copies nothing, so that no font can make it grow.
//
// Source: OpenType specification 1.9, "GPOS" (lookup types 2 and 9), "OpenType
// layout common table formats" (coverage, class definition) and "kern".
type kerning struct {
	positions table // GPOS
	pairs     table // kern
	lookups   []table
}

// Honest fonts have a handful of kerning lookups with a few subtables each.
const (
	maxKernLookups   = 64
	maxKernSubtables = 256 // in one lookup
)

// prepared finds the lookups of the kern feature, whatever script it is listed
// for: a pair of glyphs belongs to one script only.
func (k kerning) prepared() kerning {
	features, lookups := k.positions.from(k.positions.u16(6)), k.positions.from(k.positions.u16(8))
	var numbers []int
	for i := range features.u16(0) {
		record := features.from(2 + 6*i)
		if len(record) < 6 || string(record[:4]) != "kern" {
			continue
		}
		feature := features.from(record.u16(4))
		for j := range min(feature.u16(2), maxKernLookups) {
			if n := feature.u16(4 + 2*j); len(numbers) < maxKernLookups && !slices.Contains(numbers, n) {
				numbers = append(numbers, n)
			}
		}
	}
	slices.Sort(numbers)
	for _, n := range numbers {
		if n < lookups.u16(0) {
			k.lookups = append(k.lookups, lookups.from(lookups.u16(2+2*n)))
		}
	}
	return k
}

// between is what is added between the glyphs a and b.
func (k kerning) between(a, b int) int {
	if len(k.lookups) == 0 {
		return k.pairs.kern(a, b)
	}
	sum := 0
	for _, lookup := range k.lookups {
		sum += lookup.pairAdjustment(a, b)
	}
	return sum
}

// pairAdjustment is what a lookup says: the first of its subtables that knows
// the pair decides.
func (t table) pairAdjustment(a, b int) int {
	const pair, extension = 2, 9
	for i := range min(t.u16(4), maxKernSubtables) {
		kind, sub := t.u16(0), t.from(t.u16(6+2*i))
		if kind == extension {
			kind, sub = sub.u16(2), sub.from(sub.u32(4))
		}
		if kind != pair {
			continue
		}
		if value, known := sub.pairValue(a, b); known {
			return value
		}
	}
	return 0
}

// pairValue reads a pair adjustment subtable: pair by pair (format 1) or class
// by class (format 2).
func (t table) pairValue(a, b int) (value int, known bool) {
	index, covered := t.from(t.u16(2)).coverage(a)
	if !covered {
		return 0, false
	}
	// A value record holds one number for each bit of its format; the advance
	// comes after the two placements.
	first, second := t.u16(4), t.u16(6)
	const placements, advance = 0x3, 0x4
	size := 2 * (bits.OnesCount8(uint8(first)) + bits.OnesCount8(uint8(second)))
	at := 2 * bits.OnesCount8(uint8(first)&placements)
	read := func(record table) int {
		if first&advance == 0 {
			return 0
		}
		return record.i16(at)
	}
	switch t.u16(0) {
	case 1:
		if index >= t.u16(8) {
			return 0, false
		}
		set := t.from(t.u16(10 + 2*index))
		n := set.u16(0)
		i := sort.Search(n, func(i int) bool { return set.u16(2+i*(2+size)) >= b })
		if i == n || set.u16(2+i*(2+size)) != b {
			return 0, false
		}
		return read(set.from(2 + i*(2+size) + 2)), true
	case 2:
		classA, classB := t.from(t.u16(8)).class(a), t.from(t.u16(10)).class(b)
		if classA >= t.u16(12) || classB >= t.u16(14) {
			return 0, false
		}
		return read(t.from(16 + (classA*t.u16(14)+classB)*size)), true
	}
	return 0, false
}

// coverage is a glyph's place in a coverage table.
func (t table) coverage(g int) (index int, covered bool) {
	n := t.u16(2)
	switch t.u16(0) {
	case 1:
		i, found := sort.Find(n, func(i int) int { return cmp.Compare(g, t.u16(4+2*i)) })
		return i, found
	case 2:
		if i, found := t.from(4).ranges(n, g); found {
			return t.u16(4+6*i+4) + g - t.u16(4+6*i), true
		}
	}
	return 0, false
}

// class is a glyph's class in a class definition table; 0 for those not listed.
func (t table) class(g int) int {
	switch t.u16(0) {
	case 1:
		if i := g - t.u16(2); i >= 0 && i < t.u16(4) {
			return t.u16(6 + 2*i)
		}
	case 2:
		if i, found := t.from(4).ranges(t.u16(2), g); found {
			return t.u16(4 + 6*i + 4)
		}
	}
	return 0
}

// ranges finds the range that holds a glyph among n of first, last and a number.
func (t table) ranges(n, g int) (int, bool) {
	i := sort.Search(n, func(i int) bool { return t.u16(6*i+2) >= g })
	return i, i < n && t.u16(6*i) <= g && 6*i+6 <= len(t)
}

// kern reads the older table: pairs of glyphs in order, in subtables.
func (t table) kern(a, b int) int {
	if t.u16(0) != 0 {
		return 0
	}
	const horizontal, header, record = 0x0001, 14, 6
	sum, sub := 0, t.from(4)
	for range min(t.u16(2), maxKernSubtables) {
		if format := sub.u16(4); format == horizontal {
			n := sub.u16(6)
			pair := a<<16 | b
			i := sort.Search(n, func(i int) bool { return sub.u32(header+record*i) >= pair })
			if i < n && sub.u32(header+record*i) == pair {
				sum += sub.i16(header + record*i + 4)
			}
		}
		if sub.u16(2) == 0 {
			break
		}
		sub = sub.from(sub.u16(2))
	}
	return sum
}
