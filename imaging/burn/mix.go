package burn

// term is one row in a weighted sum of rows.
type term struct {
	weight float32
	row    []float32
}

// mix writes the weighted sum of rows to out. Each value is summed in the order of
// the terms, however they are taken together, and each product is rounded before
// it is added: the same terms give the same bits on every machine, and a term
// whose row is all zero may be left out without changing one.
func mix(out []float32, terms []term) {
	switch len(terms) % 4 {
	case 0:
		if len(terms) == 0 {
			clear(out)
			return
		}
		start4(out, terms[0], terms[1], terms[2], terms[3])
		terms = terms[4:]
	case 1:
		start1(out, terms[0])
		terms = terms[1:]
	case 2:
		start2(out, terms[0], terms[1])
		terms = terms[2:]
	case 3:
		start3(out, terms[0], terms[1], terms[2])
		terms = terms[3:]
	}
	for ; len(terms) > 0; terms = terms[4:] {
		add4(out, terms[0], terms[1], terms[2], terms[3])
	}
}

func start1(out []float32, a term) {
	ra := a.row[:len(out)]
	for i := range out {
		out[i] = a.weight * ra[i]
	}
}

func start2(out []float32, a, b term) {
	ra, rb := a.row[:len(out)], b.row[:len(out)]
	for i := range out {
		out[i] = float32(a.weight*ra[i]) + float32(b.weight*rb[i])
	}
}

func start3(out []float32, a, b, c term) {
	ra, rb, rc := a.row[:len(out)], b.row[:len(out)], c.row[:len(out)]
	for i := range out {
		out[i] = float32(a.weight*ra[i]) + float32(b.weight*rb[i]) + float32(c.weight*rc[i])
	}
}

func start4(out []float32, a, b, c, d term) {
	ra, rb, rc, rd := a.row[:len(out)], b.row[:len(out)], c.row[:len(out)], d.row[:len(out)]
	for i := range out {
		out[i] = float32(a.weight*ra[i]) + float32(b.weight*rb[i]) + float32(c.weight*rc[i]) + float32(d.weight*rd[i])
	}
}

func add4(out []float32, a, b, c, d term) {
	ra, rb, rc, rd := a.row[:len(out)], b.row[:len(out)], c.row[:len(out)], d.row[:len(out)]
	for i := range out {
		out[i] = out[i] + float32(a.weight*ra[i]) + float32(b.weight*rb[i]) + float32(c.weight*rc[i]) + float32(d.weight*rd[i])
	}
}
