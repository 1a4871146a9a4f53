package picture

import "math"

// window is a square about a pixel: `reach` whole pixels to each side of it and
// the share `edge`, 0..1, of one more. So its side can be any number of pixels
// from 1, and a length in mm is the same length in pixels of any size.
type window struct {
	reach int
	edge  float64
}

// windowOf is the window of a side in pixels; a side under 1 is the pixel itself.
func windowOf(side float64) window {
	half := math.Max(side-1, 0) / 2
	whole := math.Floor(half)
	return window{int(whole), half - whole}
}

// spreadingWindow is the window whose mean spreads a point by a variance, in
// square pixels, along each axis.
// Source: P. Gwosdek, S. Grewenig, A. Bruhn, J. Weickert, "Theoretical foundations
// of Gaussian convolution by extended box filtering", SSVM 2011, LNCS 6667
// (from memory; derived from the second moment again).
func spreadingWindow(variance float64) window {
	whole := math.Floor((math.Sqrt(12*variance+1) - 1) / 2)
	next := (whole + 1) * (whole + 1)
	edge := (2*whole + 1) * (whole*(whole+1)/3 - variance) / (2 * (variance - next))
	return window{int(whole), math.Min(math.Max(edge, 0), 1)}
}

func (w window) side() float64 { return float64(2*w.reach+1) + 2*w.edge }

// slider moves a window down a plane, row by row, and gives the mean of each
// pixel's window. Past the edge the edge's values go on. The sums down the columns
// are whole numbers and so do not depend on the row it began with.
type slider struct {
	window
	height, channels int
	source           func(y int, into []int64) // asked for each row once, from the top down
	rows             [][]int64                 // the rows of the window, from the one above it to the one below
	sum              []int64                   // of all but the first and the last of them
	centre           int
	begun            bool
	asked            int // the last row that the source was asked for
	padded           []float64
}

// newSlider makes a slider over rows of width*channels values, those of a pixel
// side by side.
func newSlider(w window, width, height, channels int, source func(y int, into []int64)) *slider {
	s := &slider{window: w, height: height, channels: channels, source: source}
	n := width * channels
	cells := make([]int64, (2*w.reach+4)*n)
	row := func() []int64 {
		r := cells[:n:n]
		cells = cells[n:]
		return r
	}
	s.sum = row()
	for range 2*w.reach + 3 {
		s.rows = append(s.rows, row())
	}
	s.padded = make([]float64, n+2*(w.reach+1)*channels)
	return s
}

// mean writes the means of the windows about row y, which is the next below the
// one before, or any at first.
func (s *slider) mean(y int, into []float64) {
	if !s.begun {
		s.begin(y)
	} else {
		s.step()
	}
	s.columns()
	s.across(into)
}

func (s *slider) begin(y int) {
	s.begun, s.centre, s.asked = true, y, -1
	clear(s.sum)
	for i := range s.rows {
		s.fill(i)
		if i == 0 || i == len(s.rows)-1 {
			continue
		}
		for x, v := range s.rows[i] {
			s.sum[x] += v
		}
	}
}

func (s *slider) step() {
	s.centre++
	first := s.rows[0]
	copy(s.rows, s.rows[1:])
	last := len(s.rows) - 1
	s.rows[last] = first
	s.fill(last)
	left, joined := s.rows[0][:len(s.sum)], s.rows[last-1][:len(s.sum)]
	for x := range s.sum {
		s.sum[x] += joined[x] - left[x]
	}
}

// fill brings a row of the window in. Above the plane its first row goes on, below
// it the last.
func (s *slider) fill(i int) {
	y := min(max(s.centre-s.reach-1+i, 0), s.height-1)
	if y == s.asked {
		copy(s.rows[i], s.rows[i-1])
		return
	}
	s.asked = y
	s.source(y, s.rows[i])
}

// columns sums the window down its columns and lets the row go on at both ends.
func (s *slider) columns() {
	pad := (s.reach + 1) * s.channels
	top, bottom := s.rows[0][:len(s.sum)], s.rows[len(s.rows)-1][:len(s.sum)]
	middle := s.padded[pad : pad+len(s.sum)]
	for x, v := range s.sum {
		middle[x] = float64(v) + float64(s.edge*float64(top[x]+bottom[x]))
	}
	for x := range pad {
		s.padded[x] = middle[x%s.channels]
		s.padded[pad+len(middle)+x] = middle[len(middle)-s.channels+x%s.channels]
	}
}

// across sums the columns and divides by the window's area.
func (s *slider) across(into []float64) {
	share := 1 / (s.side() * s.side())
	n := s.channels
	whole := (2*s.reach + 1) * n // pixels of one channel between a window's leftmost and the one past its right
	for c := range n {
		sum := 0.0
		for x := n + c; x < n+whole; x += n {
			sum += s.padded[x]
		}
		for x := c; x < len(into); x += n {
			ends := s.padded[x] + s.padded[x+n+whole]
			into[x] = (sum + float64(s.edge*ends)) * share
			sum += s.padded[x+n+whole] - s.padded[x+n]
		}
	}
}
