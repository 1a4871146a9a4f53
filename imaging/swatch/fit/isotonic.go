package fit

// isotonic is the sequence, rising or level, that lies nearest to y by weighted
// squares. Where y falls, neighbours are pooled to their mean. weights are above
// 0, one a value; nil weighs all alike.
//
// Source: M. Ayer, H. D. Brunk, G. M. Ewing, W. T. Reid and E. Silverman, "An
// empirical distribution function for sampling with incomplete information",
// Ann. Math. Statist. 26, 1955 (from memory).
func isotonic(y, weights []float64) []float64 {
	type pool struct {
		mean, weight float64
		count        int
	}
	pools := make([]pool, 0, len(y))
	for i, v := range y {
		p := pool{v, 1, 1}
		if weights != nil {
			p.weight = weights[i]
		}
		for len(pools) > 0 && pools[len(pools)-1].mean >= p.mean {
			last := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			sum := last.weight + p.weight
			p = pool{(last.mean*last.weight + p.mean*p.weight) / sum, sum, last.count + p.count}
		}
		pools = append(pools, p)
	}
	level := make([]float64, 0, len(y))
	for _, p := range pools {
		for range p.count {
			level = append(level, p.mean)
		}
	}
	return level
}
