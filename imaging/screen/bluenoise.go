package screen

import (
	_ "embed"
	"encoding/binary"
	"sync"
)

// The mask is a square of ranks, each once, that may be laid edge to edge. Dots of
// the lowest ranks, however many, stand as evenly apart as they can without
// falling into a pattern. It was made by the void-and-cluster method, which the
// tests hold, from which the file can be made anew.
//
// Source: R. Ulichney, "The void-and-cluster method for dither array generation",
// Proc. SPIE 1913 (1993) 332-343.
const (
	maskSize   = 128 // dots along each side
	maskPlaces = maskSize * maskSize
)

//go:embed bluenoise.bin
var maskFile string // ranks row after row, two bytes each, the low one first

var mask = sync.OnceValue(func() []uint16 {
	ranks := make([]uint16, maskPlaces)
	for i := range ranks {
		ranks[i] = binary.LittleEndian.Uint16([]byte(maskFile[2*i : 2*i+2]))
	}
	return ranks
})

// maskRow is row y of the mask, moved to where the seed puts it. It belongs to the
// caller.
func maskRow(y int, seed uint64) []uint16 {
	at := int(seed * 0x9e3779b97f4a7c15 >> (64 - 14)) // one of maskPlaces
	dx, dy := at%maskSize, at/maskSize
	row := mask()[(y+dy)%maskSize*maskSize:][:maskSize]
	return append(append(make([]uint16, 0, maskSize), row[dx:]...), row[:dx]...)
}

// maskRank is the rank at any place, the mask repeated all over.
func maskRank(x, y int) int {
	return int(mask()[modulo(y, maskSize)*maskSize+modulo(x, maskSize)])
}

func newBlueNoise(_ int, o Options) Screener {
	t := &tile{w: maskSize, h: maskSize}
	for y := range maskSize {
		for _, rank := range maskRow(y, o.Seed) {
			t.thresholds = append(t.thresholds, threshold(int(rank), maskPlaces))
		}
	}
	return &ordered{grid: t}
}
