package resample

//go:noescape
func acrossFours(into *float32, fours int, padded *float32, first *int32, from int, weight *float32, taps int)

//go:noescape
func addFours(acc *float64, fours int, r0, r1, r2, r3, weight *float32)

//go:noescape
func roundEights(into *uint16, eights int, acc *float64)

// across works out as many of a row's first pixels as can be done at once, and
// tells how many.
func across(into, padded []float32, t taps) int {
	n := len(into) &^ 3
	if n == 0 || t.n&3 != 0 {
		return 0
	}
	// What is read lies between the first pixel's taps and the last one's.
	first, weight := t.first[:n], t.weight[:n*t.n]
	_ = padded[int(first[n-1]-first[0])+t.n-1]
	acrossFours(&into[0], n/4, &padded[0], &first[0], int(first[0]), &weight[0], t.n)
	return n
}

// add is addRows for as many values as can be done at once, and tells how many.
func add(acc []float64, rows *[4][]float32, weight *[4]float32) int {
	n := len(acc) &^ 3
	if n == 0 {
		return 0
	}
	for _, r := range rows {
		_ = r[n-1]
	}
	addFours(&acc[0], n/4, &rows[0][0], &rows[1][0], &rows[2][0], &rows[3][0], &weight[0])
	return n
}

// wholes is round for as many values as can be done at once, and tells how many.
func wholes(into []uint16, acc []float64) int {
	n := len(into) &^ 7
	if n == 0 {
		return 0
	}
	_ = acc[n-1]
	roundEights(&into[0], n/8, &acc[0])
	return n
}
