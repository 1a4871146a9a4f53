package screen

import (
	"encoding/binary"
	"flag"
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "make the blue noise mask anew")

const (
	gaussWidth = 1.8 // standard deviation in dots; the paper's 1.5 leaves more unevenness in tints about a sixteenth
	gaussReach = 14
	startShare = 10 // of the places burn at first: one in ten
)

// voids is a square of burned places whose edges meet, and how crowded each is.
//
// Source: R. Ulichney, "The void-and-cluster method for dither array generation",
// Proc. SPIE 1913 (1993) 332-343: the filter, the initial pattern and the three
// phases.
type voids struct {
	size  int
	burns []bool
	crowd []int64
}

// gaussWeights are whole numbers, the same on every machine; past gaussReach they
// are 0.
var gaussWeights = func() (w [2*gaussReach + 1][2*gaussReach + 1]int64) {
	for y := range w {
		for x := range w[y] {
			r := math.Hypot(float64(x-gaussReach), float64(y-gaussReach)) / gaussWidth
			w[y][x] = int64(math.Round(math.Exp(-r*r/2) * (1 << 40)))
		}
	}
	return w
}()

func newVoids(size int) *voids {
	return &voids{size: size, burns: make([]bool, size*size), crowd: make([]int64, size*size)}
}

func (v *voids) flip(place int) {
	v.burns[place] = !v.burns[place]
	sign := int64(-1)
	if v.burns[place] {
		sign = 1
	}
	x0, y0 := place%v.size, place/v.size
	for dy := -gaussReach; dy <= gaussReach; dy++ {
		y := (y0 + dy + v.size) % v.size
		for dx := -gaussReach; dx <= gaussReach; dx++ {
			x := (x0 + dx + v.size) % v.size
			v.crowd[y*v.size+x] += sign * gaussWeights[gaussReach+dy][gaussReach+dx]
		}
	}
}

// tightest is the burned place in the thickest crowd.
func (v *voids) tightest() int {
	best := -1
	for i, b := range v.burns {
		if b && (best < 0 || v.crowd[i] > v.crowd[best]) {
			best = i
		}
	}
	return best
}

// largestVoid is the place not burned with the least about it.
func (v *voids) largestVoid() int {
	best := -1
	for i, b := range v.burns {
		if !b && (best < 0 || v.crowd[i] < v.crowd[best]) {
			best = i
		}
	}
	return best
}

func (v *voids) clone() *voids {
	c := *v
	c.burns, c.crowd = append([]bool(nil), v.burns...), append([]int64(nil), v.crowd...)
	return &c
}

// voidAndCluster ranks the places of a square. In the paper's third phase the
// tightest cluster of gaps gives way; with a filter whose sum is everywhere the
// same that is the largest void of burned places, as in the second.
func voidAndCluster(size int) []uint16 {
	v := newVoids(size)
	for n, i := size*size/startShare, uint64(1); n > 0; i++ {
		place := int(uint32(chance(1, int(i), half-1)) % uint32(size*size))
		if !v.burns[place] {
			v.flip(place)
			n--
		}
	}
	for {
		from := v.tightest()
		v.flip(from)
		to := v.largestVoid()
		v.flip(to)
		if from == to {
			break
		}
	}
	ranks := make([]uint16, size*size)
	start := size * size / startShare
	first := v.clone()
	for rank := start - 1; rank >= 0; rank-- {
		place := first.tightest()
		first.flip(place)
		ranks[place] = uint16(rank)
	}
	for rank := start; rank < size*size; rank++ {
		place := v.largestVoid()
		v.flip(place)
		ranks[place] = uint16(rank)
	}
	return ranks
}

func TestMaskIsMadeByVoidAndCluster(t *testing.T) {
	if testing.Short() && !*update {
		t.Skip("takes some seconds")
	}
	var file []byte
	for _, r := range voidAndCluster(maskSize) {
		file = binary.LittleEndian.AppendUint16(file, r)
	}
	if *update {
		require.NoError(t, os.WriteFile("bluenoise.bin", file, 0o644))
		return
	}
	require.Equal(t, maskFile, string(file))
}

// power is the mean power of a pattern at the frequencies of each ring, a cycle a
// tile wide, as a share of white noise's: ring f is about f cycles a tile.
//
// Source: R. Ulichney, "Digital Halftoning", MIT Press, 1987 (from memory): the
// radially averaged power spectrum, and white noise of the tint g has g(1-g).
func power(burns func(x, y int) float64, size int, g float64) []float64 {
	line := make([][]complex128, size) // transformed along the rows, then down
	turn := make([]complex128, size)
	for i := range turn {
		turn[i] = cmplx.Rect(1, -2*math.Pi*float64(i)/float64(size))
	}
	transform := func(at func(i int) complex128) []complex128 {
		out := make([]complex128, size)
		for f := range out {
			for i := range size {
				out[f] += at(i) * turn[f*i%size]
			}
		}
		return out
	}
	for y := range line {
		line[y] = transform(func(x int) complex128 { return complex(burns(x, y)-g, 0) })
	}
	sum, count := make([]float64, size/2+1), make([]float64, size/2+1)
	for fx := range size {
		for fy, c := range transform(func(y int) complex128 { return line[y][fx] }) {
			ring := int(math.Round(math.Hypot(float64(min(fx, size-fx)), float64(min(fy, size-fy)))))
			if ring > 0 && ring <= size/2 {
				sum[ring] += real(c)*real(c) + imag(c)*imag(c)
				count[ring]++
			}
		}
	}
	for ring := range sum {
		if count[ring] > 0 {
			sum[ring] /= count[ring] * float64(size*size) * g * (1 - g)
		}
	}
	return sum
}

// Source: Ulichney 1987 (from memory): the principal frequency of blue noise is
// the root of the share of dots, or of gaps where they are fewer.
func TestMaskIsBlue(t *testing.T) {
	for _, level := range []int{1, 2, 4, 8, 12, 14, 15} {
		t.Run(fmt.Sprintf("%d of 16", level), func(t *testing.T) {
			g := float64(level) / 16
			rings := power(func(x, y int) float64 {
				if int(mask()[y*maskSize+x]) < level*maskPlaces/16 {
					return 1
				}
				return 0
			}, maskSize, g)
			principal := math.Sqrt(min(g, 1-g)) * maskSize
			low, lows, peak := 0.0, 0.0, 0.0
			for ring, p := range rings {
				if ring > 0 && float64(ring) < principal/3 {
					low += p
					lows++
				}
				peak = max(peak, p)
			}
			t.Logf("below a third of the principal frequency %.4f of white noise, peak %.2f", low/lows, peak)
			require.Less(t, low/lows, 0.05)
			require.Greater(t, peak, 1.2)
		})
	}
}
