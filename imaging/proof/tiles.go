package proof

import (
	"context"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/imaging/screen"
)

// tints is the number of even tints in a table, from none to all dots burned.
const tints = 256

// A tile is an even tint, screened. Its rim is left out of the count: a screen
// needs some rows to settle, and the beam reaches in from dots next door. It ends
// at the row at which its share of burned dots is nearest to the tint.
const (
	tileWide     = 64
	tileLeast    = 64 // rows
	tileMost     = 128
	tileRim      = 16 // at the sides and below
	tileTop      = 32 // and above, for tints that settle at once
	settlingRows = 160
	// widestBeam is the widest beam, in pitches, that reaches no further than
	// the rim. A wider one is cut to it: either way the dose is all but even.
	widestBeam = 12
)

// settling is how many rows the tint i/255 needs above its tile. Error diffusion
// sets no dot before what is left over has grown to half a dot, row by row: the
// fewer dots, or holes, the later.
func settling(i int) int {
	few := max(1, min(i, tints-1-i))
	return tileTop + settlingRows/few
}

// The doses of a tile are kept as shares of the full dose, counted at nodes
// which lie evenly in each octave: a power of two and nodesAnOctave steps to
// the next. Dose is proportional to power, so the counts hold at any power.
const (
	nodesAnOctave = 64
	lowestOctave  = -10 // 1/1024 of the full dose
	octaves       = 14  // up to 16 times the full dose, far above any ripple
	nodes         = octaves*nodesAnOctave + 1
	nodeShift     = 23 - 6 // from the bits of a float32 to its node
)

var firstNodeBits = math.Float32bits(float32(math.Exp2(lowestOctave)))

// nodeDose is the share of the full dose at a node.
func nodeDose(i int) float32 {
	return math.Float32frombits(firstNodeBits + uint32(i)<<nodeShift)
}

// tiles holds the dose fields of all tints for one screen, one grid, and one
// ratio of beam to pitch.
type tiles struct {
	key   tilesKey
	share [tints][]float32 // share of the tile's area at each node, from firsts on
	first [tints]int
}

type tilesKey struct {
	screen        screen.Options
	along, across float64 // beam widths in pitches
	grid          int
	turned        bool
}

func (r Recipe) tilesKey() tilesKey {
	pitch := float64(r.Setting.Pitch)
	return tilesKey{r.Screen, float64(r.Machine.BeamAlong) / pitch, float64(r.Machine.BeamAcross) / pitch, r.grid(), r.Turned}
}

func newTiles(ctx context.Context, r Recipe) (*tiles, error) {
	expose, err := tileExposer(ctx, r)
	if err != nil {
		return nil, err
	}
	t := &tiles{key: r.tilesKey()}
	err = plane.SplitRows(ctx, tints, func(ctx context.Context, t0, t1 int) error {
		counts := make([]float64, nodes)
		for i := t0; i < t1; i++ {
			dots, region, err := screenTile(ctx, r.Screen, i)
			if err != nil {
				return err
			}
			clear(counts)
			if err := expose(ctx, dots, region, counts); err != nil {
				return err
			}
			t.keep(i, counts)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return t, nil
}

// exposeTile adds up the doses in a region of dots.
type exposeTile func(ctx context.Context, dots *plane.Bits, region image.Rectangle, counts []float64) error

// tileExposer is the way to count the doses of a tile: by the patterns of
// neighbours in it or, under a beam too wide for that, point by point.
func tileExposer(ctx context.Context, r Recipe) (exposeTile, error) {
	near, err := newNeighbours(ctx, r)
	if err != nil {
		return nil, err
	}
	if near != nil {
		return near.countTile, nil
	}
	m := r.Machine
	widest := widestBeam * r.Setting.Pitch
	m.BeamAlong, m.BeamAcross = min(m.BeamAlong, widest), min(m.BeamAcross, widest)
	r.Machine = m
	exposer, err := r.exposer(r.grid())
	return func(ctx context.Context, dots *plane.Bits, region image.Rectangle, counts []float64) error {
		return exposer.Expose(ctx, burn.OneBit(dots), region, nil, func(_ int, doses []float32) error {
			count(doses, 1, counts)
			return nil
		})
	}, err
}

func (n *neighbours) countTile(ctx context.Context, dots *plane.Bits, region image.Rectangle, counts []float64) error {
	times := make([]int, n.patterns())
	err := n.rows(ctx, dots, region, func(_ int, patterns []uint16) error {
		for _, p := range patterns {
			times[p]++
		}
		return nil
	})
	shares := make([]float32, n.k*n.k)
	for p, t := range times {
		if t > 0 {
			n.sharesOf(p, shares)
			count(shares, float64(t), counts)
		}
	}
	return err
}

// screenTile screens the tint i/255 and says which part is the tile.
func screenTile(ctx context.Context, o screen.Options, i int) (*plane.Bits, image.Rectangle, error) {
	top := settling(i)
	tile := plane.NewGrey16(tileWide+2*tileRim, top+tileMost+tileRim)
	row := tileRow(i)
	for y := range tile.H {
		copy(tile.Row(y), row)
	}
	dots, err := screen.Screen(ctx, tile, o)
	if err != nil {
		return nil, image.Rectangle{}, err
	}
	region := image.Rect(tileRim, top, tileRim+tileWide, top+tileLeast)
	burned, best := dots.CountRect(region), math.Inf(1)
	for rows := tileLeast; ; rows++ {
		off := math.Abs(float64(burned)/float64(rows*tileWide) - float64(i)/(tints-1))
		if off < best {
			best = off
			region.Max.Y = top + rows
		}
		if rows == tileMost {
			return dots, region, nil
		}
		burned += dots.CountRect(image.Rect(tileRim, top+rows, tileRim+tileWide, top+rows+1))
	}
}

// tileRow is a row of the tint i/255. Across the tile it rises by one step of
// the table, from half below to half above: no picture is even to the last bit,
// and a tint of exactly a third locks the dots into a texture that its neighbours
// do not have.
func tileRow(i int) []uint16 {
	row := make([]uint16, tileWide+2*tileRim)
	for x := range row {
		way := (float64(x-tileRim)+0.5)/tileWide - 0.5
		if i == 0 || i == tints-1 {
			way = 0
		}
		row[x] = uint16(math.Round(257 * (float64(i) + max(-0.5, min(0.5, way)))))
	}
	return row
}

// count adds each dose times times to the two nodes about it, in such parts that
// the counts keep the mean dose and a look that runs straight between nodes is met
// exactly.
func count(doses []float32, times float64, counts []float64) {
	const mask = 1<<nodeShift - 1
	step := times / (1 << nodeShift)
	last := math.Float32bits(nodeDose(nodes - 1))
	for _, d := range doses {
		bits := math.Float32bits(d)
		switch {
		case bits < firstNodeBits:
			counts[0] += times
		case bits >= last:
			counts[nodes-1] += times
		default:
			at := bits - firstNodeBits
			upper := float64(at&mask) * step
			counts[at>>nodeShift] += times - upper
			counts[at>>nodeShift+1] += upper
		}
	}
}

// keep stores the counts of the tint i as shares of area, without the empty ends.
func (t *tiles) keep(i int, counts []float64) {
	first, last, sum := nodes, 0, 0.0
	for j, c := range counts {
		if c > 0 {
			first, last = min(first, j), j
			sum += c
		}
	}
	t.first[i] = first
	t.share[i] = make([]float32, last-first+1)
	for j := range t.share[i] {
		t.share[i][j] = float32(counts[first+j] / sum)
	}
}
