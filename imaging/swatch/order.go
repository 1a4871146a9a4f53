package swatch

// spreadOut says which of n ranks goes to each place of a grid with so many
// columns, in reading order, so that neighbours are far apart in rank.
//
// Ranks are the order of dose, which is also the order of burning: a swatch has
// cooled by the time its neighbours are burned, and a shadow across the photograph
// does not look like a rise in power. Place i gets the rank i*stride modulo n. All
// strides without a common factor with n are tried; the one whose nearest
// neighbours, sideways, up and down and across the corner, differ most is taken.
func spreadOut(n, cols int) []int {
	best, bestApart := 1, -1.0
	for stride := 1; stride < n; stride++ {
		if gcd(stride, n) != 1 {
			continue
		}
		if apart := leastApart(n, cols, stride); apart > bestApart {
			best, bestApart = stride, apart
		}
	}
	ranks := make([]int, n)
	for i := range ranks {
		ranks[i] = i * best % max(1, n)
	}
	return ranks
}

// leastApart is how many ranks the nearest neighbours differ by at least; those
// across a corner are farther away and count for more.
func leastApart(n, cols, stride int) float64 {
	apart := func(places int) float64 {
		if places >= n {
			return float64(n)
		}
		d := places * stride % n
		return float64(min(d, n-d))
	}
	least := apart(cols)
	if cols > 1 {
		const corner = 1.5
		least = min(least, apart(1), corner*apart(cols+1), corner*apart(cols-1))
	}
	return least
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
