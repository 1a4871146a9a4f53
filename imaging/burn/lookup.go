package burn

// lookup answers, for a one-bit row, what the dots within reach give to the k
// sub-cells of a dot: the dots form a number, and the number is an index. With a
// narrow beam one index answers for a group of neighbouring dots; a wide window is
// cut into parts whose answers add up, a dot at a time.
type lookup struct {
	k, reach int
	group    int         // dots answered at once
	partBits uint        // of the window, for each part
	parts    [][]float32 // for each part, group*k values for each of 1<<partBits numbers
}

const (
	maxWindow   = 63 // dots that a lookup can hold
	maxPartBits = 10 // a table of 1024 entries still lies near the processor
	maxGroup    = 8
)

// newLookup is nil where the kernel reaches too far for one.
func newLookup(kern kernel) *lookup {
	window := 2*kern.reach + 1
	if window > maxWindow {
		return nil
	}
	l := &lookup{k: len(kern.weights), reach: kern.reach, group: maxGroup}
	for l.group > 1 && window-1+l.group > maxPartBits {
		l.group /= 2
	}
	window += l.group - 1
	count := (window + maxPartBits - 1) / maxPartBits
	l.partBits = uint((window + count - 1) / count)
	for part := range count {
		l.parts = append(l.parts, l.table(kern, part*int(l.partBits)))
	}
	return l
}

// table fills the part that begins at bit low of the window. The row is shifted in
// from below: bit p of a dot's own window is the neighbour reach-p dots on, and
// the last dot of a group has its window lowest.
func (l *lookup) table(kern kernel, low int) []float32 {
	table := make([]float32, 0, l.group*l.k<<l.partBits)
	for number := range 1 << l.partBits {
		for dot := range l.group {
			own := number >> (l.group - 1 - dot)
			for _, w := range kern.weights {
				total := 0.0
				for bit := range int(l.partBits) {
					if p := low + bit; own>>bit&1 == 1 && p < len(w) {
						total += w[len(w)-1-p]
					}
				}
				table = append(table, float32(total))
			}
		}
	}
	return table
}

// row writes the values of the dots from x0 on of a packed row into out, k a dot.
// Dots outside the row are dark.
func (l *lookup) row(bits []byte, x0 int, out []float32) {
	window := uint64(0)
	next := x0 - l.reach
	for ; next < x0+l.reach; next++ {
		window = window<<1 | bitsAt(bits, next, 1)
	}
	if len(l.parts) == 1 {
		l.groups(bits, window, next, out)
	} else {
		l.sums(bits, window, next, out)
	}
}

// groups answers a group of dots at once; next is the first dot that is not in
// the window yet.
func (l *lookup) groups(bits []byte, window uint64, next int, out []float32) {
	table, size, mask := l.parts[0], l.group*l.k, uint64(1)<<l.partBits-1
	for len(out) > 0 {
		window = window<<l.group | bitsAt(bits, next, l.group)
		next += l.group
		at := int(window&mask) * size
		out = out[copy(out, table[at:at+size]):]
	}
}

// sums answers one dot at a time and adds the parts up.
func (l *lookup) sums(bits []byte, window uint64, next int, out []float32) {
	k, mask := l.k, uint64(1)<<l.partBits-1
	for ; len(out) >= k; out = out[k:] {
		window = window<<1 | bitsAt(bits, next, 1)
		next++
		cells := out[:k]
		copy(cells, l.parts[0][int(window&mask)*k:])
		rest := window
		for _, part := range l.parts[1:] {
			rest >>= l.partBits
			from := part[int(rest&mask)*k:][:len(cells)]
			for c := range cells {
				cells[c] += from[c]
			}
		}
	}
}

// bitsAt is the n dots, at most 8, from dot x on, the first in the highest bit.
func bitsAt(bits []byte, x, n int) uint64 {
	var two uint64
	i := x >> 3
	if uint(i) < uint(len(bits)) {
		two = uint64(bits[i]) << 8
	}
	if uint(i+1) < uint(len(bits)) {
		two |= uint64(bits[i+1])
	}
	return two >> (16 - n - x&7) & (1<<n - 1)
}
