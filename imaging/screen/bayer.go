package screen

const usualMatrix = 8

// bayerRank is the rank of a place of the matrix of n x n, n a power of two. From
// the matrix M of half the size it is made of four parts,
//
//	4 M      4 M + 2
//	4 M + 3  4 M + 1
//
// Source: B. E. Bayer, "An optimum method for two-level rendition of
// continuous-tone pictures", Proc. IEEE Int. Conf. Communications 1 (1973)
// 26-11..26-15, in the usual form with the lowest rank in the upper left corner.
func bayerRank(n, x, y int) int {
	if n == 1 {
		return 0
	}
	half := n / 2
	part := [2][2]int{{0, 2}, {3, 1}}[y/half][x/half]
	return 4*bayerRank(half, x%half, y%half) + part
}

// bayer is a matrix repeated all over. Left plain it has no tints between k/n^2
// and the next: every tile is the same. So each tile's thresholds lie elsewhere
// within their step, in the order of the blue noise mask, and between two tints
// whole tiles take turns.
type bayer struct {
	n      int
	ranks  []int
	plain  bool
	seed   uint64
	period []uint16
}

func newBayer(_ int, o Options) Screener {
	b := &bayer{n: o.Matrix, plain: o.Plain, seed: o.Seed}
	if b.n == 0 {
		b.n = usualMatrix
	}
	for y := range b.n {
		for x := range b.n {
			b.ranks = append(b.ranks, bayerRank(b.n, x, y))
		}
	}
	tiles := maskSize
	if b.plain {
		tiles = 1
	}
	b.period = make([]uint16, tiles*b.n)
	return &ordered{grid: b}
}

func (b *bayer) row(y int) []uint16 {
	ranks := b.ranks[y%b.n*b.n:][:b.n]
	places := b.n * b.n
	if b.plain {
		for x, r := range ranks {
			b.period[x] = threshold(r, places)
		}
		return b.period
	}
	for i, step := range maskRow(y/b.n, b.seed) {
		for x, r := range ranks {
			b.period[i*b.n+x] = threshold(r*maskPlaces+int(step), places*maskPlaces)
		}
	}
	return b.period
}
