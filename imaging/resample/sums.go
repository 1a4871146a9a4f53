package resample

// resampleRow works out one row across.
func resampleRow(into, padded []float32, t taps) {
	plainRow(into, padded, t, across(into, padded, t))
}

// plainRow works out the pixels of a row from one on. Four products are summed at a
// time in float32 and the fours in float64, so that the error of an even area stays
// far below half a step for any number of taps. The conversions of each product keep
// the compiler from fusing it into the sum, which would make the last bit depend on
// the processor.
func plainRow(into, padded []float32, t taps, from int) {
	start := t.first[0]
	for i := from; i < len(into); i++ {
		s, w := padded[t.first[i]-start:], t.weight[i*t.n:(i+1)*t.n]
		sum := 0.0
		for len(w) >= 4 && len(s) >= 4 {
			sum += float64((float32(s[0]*w[0]) + float32(s[1]*w[1])) + (float32(s[2]*w[2]) + float32(s[3]*w[3])))
			s, w = s[4:], w[4:]
		}
		into[i] = float32(sum)
	}
}

// addRows adds four rows up with their shares, rounding as plainRow does.
func addRows(acc []float64, rows *[4][]float32, weight *[4]float32) {
	plainRows(acc, rows, weight, add(acc, rows, weight))
}

func plainRows(acc []float64, rows *[4][]float32, weight *[4]float32, from int) {
	w0, w1, w2, w3 := weight[0], weight[1], weight[2], weight[3]
	r0, r1, r2, r3 := rows[0][:len(acc)], rows[1][:len(acc)], rows[2][:len(acc)], rows[3][:len(acc)]
	for x := from; x < len(acc); x++ {
		acc[x] += float64((float32(w0*r0[x]) + float32(w1*r1[x])) + (float32(w2*r2[x]) + float32(w3*r3[x])))
	}
}

// round goes to the nearest of 0..65535; the kernel's negative lobes can leave it.
func round(into []uint16, acc []float64) {
	plainRound(into, acc, wholes(into, acc))
}

func plainRound(into []uint16, acc []float64, from int) {
	for x := from; x < len(into); x++ {
		into[x] = uint16(min(max(acc[x], 0), 65535) + 0.5)
	}
}
