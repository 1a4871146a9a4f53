package screen

// Error diffusion needs some rows and dots to settle: until what is left over has
// grown to half a dot it burns none, and in even tints the first ones come all in
// one row. So the raster is screened as a part of a larger one. The tints of its
// first row go on upwards for startRows, those of its first and last column to
// either side for margin dots; what is burned there is thrown away. Above all that
// the errors begin at chance, near where they settle.
const (
	margin    = 16 // whole bytes of dots
	startRows = 64 // an even number: the first row of the raster runs to the right
)

// diffuser is an error diffusion that can begin anywhere.
type diffuser interface {
	Screener
	// begin gives the errors of the row above the first and of the row above that.
	begin(above [2][]int32)
}

// endless is an error diffusion without beginning or sides.
type endless struct {
	diffuser diffuser
	adapt    *spreadTints // nil: the tints are taken as they are
	seed     uint64
	y        int // the next row; those above the raster are less than 0
	tints    []uint16
	dots     []byte
}

func newEndless(width int, o Options, diffuser diffuser) *endless {
	wide := width + 2*margin
	return &endless{diffuser: diffuser, seed: o.Seed, y: -startRows, tints: make([]uint16, wide), dots: make([]byte, (wide+7)/8)}
}

func (e *endless) Row(tints []uint16, dots []byte) {
	if len(tints) == 0 {
		return
	}
	if e.y < 0 {
		e.begin(tints)
	}
	e.next(tints)
	copy(dots, e.dots[margin/8:])
	if past := len(tints) & 7; past > 0 {
		dots[len(dots)-1] &= 0xff << (8 - past)
	}
}

// next screens the next row and its margins.
func (e *endless) next(tints []uint16) {
	inside := e.tints[margin : len(e.tints)-margin]
	if e.adapt == nil {
		copy(inside, tints)
	} else {
		e.adapt.row(e.y, tints, inside)
	}
	for i := range margin {
		e.tints[i] = inside[0]
		e.tints[len(e.tints)-1-i] = inside[len(inside)-1]
	}
	e.diffuser.Row(e.tints, e.dots)
	e.y++
}

// begin screens the rows above the raster.
func (e *endless) begin(tints []uint16) {
	var above [2][]int32
	for i := range above {
		above[i] = make([]int32, len(e.tints))
		for x := range above[i] {
			level := settled(tints[max(0, min(len(tints)-1, x-margin))])
			above[i][x] = level + chance(e.seed, 2*x+i, half-1-max(level, -level))
		}
	}
	e.diffuser.begin(above)
	for e.y < 0 {
		e.next(tints)
	}
}

// settled is about the mean error in an even tint once it has settled: near
// half a dot where few burn, near minus half where few do not. The kernels differ
// by a tenth, which the rows above the raster even out.
func settled(tint uint16) int32 {
	return (32767 - int32(tint)) * (2 * full / 5 / 32768)
}

// chance is a number from -most to most that depends on nothing but seed and
// place. Source: G. L. Steele, D. Lea and C. H. Flood, "Fast splittable
// pseudorandom number generators", OOPSLA 2014: the finaliser of SplitMix64 (from
// memory).
func chance(seed uint64, place int, most int32) int32 {
	z := seed*0xd1342543de82ef95 + uint64(place+1)*0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	z ^= z >> 31
	return int32(z>>33%uint64(2*most+1)) - most
}
