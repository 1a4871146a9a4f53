package compare

import (
	"math"
	"math/rand/v2"
)

// The doses that a panel is proofed at: factors on the setting's, evenly apart in the
// logarithm; between them looks run straight.
const (
	nodes    = 13
	nodeStep = 0.07 // e^0.42 = 1.52 at either end
	fine     = 10   // steps of the search between two nodes
)

func factorAt(node int) float64 { return math.Exp(nodeStep * float64(node-nodes/2)) }

// DoseFactor is the factor on the dose that the finished panel looks most like.
type DoseFactor struct {
	Factor    float64    `json:"factor"`
	Range95   [2]float64 `json:"range_95"`
	LnSD      float64    `json:"ln_sd"`       // standard error of ln(factor)
	AtTheEdge bool       `json:"at_the_edge"` // the search went no further
}

// blockSide is the side of a block, in reduced pixels: what is resampled to find the factor's uncertainty.
// Neighbouring pixels err alike, blocks hardly do.
const blockSide = 10

const resamples = 300

// unevened is what a lamp's fall-off, a lens and a file's compression leave of
// themselves when the light has been evened out, as a standard error of ln(factor):
// seen on simulated photographs, on which drawing blocks tells nothing of it.
const unevened = 0.015

// doseFactor searches for the factor under which the panel looks most like the
// photograph. The light is evened out for every node anew, or that of the proof as set
// would pull the factor to 1.
func (c *comparison) doseFactor(photo *looks) (DoseFactor, error) {
	photo = photo.reduced()
	across, down := (photo.w+blockSide-1)/blockSide, (photo.h+blockSide-1)/blockSide
	costs := make([][]float64, (nodes-1)*fine+1) // by step, then by block
	for i := range costs {
		costs[i] = make([]float64, across*down)
	}
	var before, after [2]*looks // evened photograph and proof, at the nodes about a step
	for node := range nodes {
		c.Progress(float64(node) / (nodes + 1)) // these proofs are nearly all of the work
		proof, err := c.proofAt(factorAt(node))
		if err != nil {
			return DoseFactor{}, err
		}
		proof = proof.reduced()
		even, err := evened(photo, proof)
		if err != nil {
			return DoseFactor{}, err
		}
		before, after = after, [2]*looks{even, proof}
		if node == 0 {
			continue
		}
		for s := range fine {
			addCosts(costs[(node-1)*fine+s], before, after, float32(s)/fine, blockSide, across)
		}
	}
	addCosts(costs[len(costs)-1], before, after, 1, blockSide, across)
	return factorOf(costs), nil
}

// addCosts adds to each block, side pixels wide and across of them in a row, how far
// photograph and proof are apart, a share of the way from one node to the next. Linear light is taken to its cube root, which is even
// to the eye; what is far off counts by its distance and not by its square.
func addCosts(blocks []float64, a, b [2]*looks, share float32, side, across int) {
	const far = 0.05
	w := a[0].w
	for i := range a[0].pix {
		cost := 0.0
		for c := range 3 {
			photo := a[0].pix[i][c] + share*(b[0].pix[i][c]-a[0].pix[i][c])
			proof := a[1].pix[i][c] + share*(b[1].pix[i][c]-a[1].pix[i][c])
			d := math.Cbrt(float64(photo)+0.002) - math.Cbrt(float64(proof)+0.002)
			if d = math.Abs(d); d < far {
				cost += d * d
			} else {
				cost += far * (2*d - far)
			}
		}
		blocks[i/w/side*across+i%w/side] += cost
	}
}

// factorOf is the factor of least cost, and how far it moves when other blocks are
// drawn.
func factorOf(costs [][]float64) DoseFactor {
	blocks := len(costs[0])
	count := make([]float64, blocks)
	for i := range count {
		count[i] = 1
	}
	best, edge := leastAt(costs, count)
	draw := rand.New(rand.NewPCG(1, 2))
	logs := make([]float64, resamples)
	mean := 0.0
	for i := range logs {
		clear(count)
		for range blocks {
			count[draw.IntN(blocks)]++
		}
		logs[i], _ = leastAt(costs, count)
		mean += logs[i] / resamples
	}
	sd := 0.0
	for _, l := range logs {
		sd += (l - mean) * (l - mean)
	}
	sd = math.Sqrt(sd / (resamples - 1))
	sd = math.Hypot(sd, unevened)
	return DoseFactor{
		Factor:    math.Exp(best),
		Range95:   [2]float64{math.Exp(best - 1.96*sd), math.Exp(best + 1.96*sd)},
		LnSD:      sd,
		AtTheEdge: edge,
	}
}

// leastAt is ln(factor) of the least cost, by a parabola through the least step and its
// neighbours.
func leastAt(costs [][]float64, count []float64) (ln float64, edge bool) {
	sum := func(step int) float64 {
		s := 0.0
		for b, n := range count {
			s += n * costs[step][b]
		}
		return s
	}
	best, least := 0, math.Inf(1)
	for step := range costs {
		if s := sum(step); s < least {
			best, least = step, s
		}
	}
	at := float64(best)
	if best > 0 && best < len(costs)-1 {
		l, r := sum(best-1), sum(best+1)
		if curve := l - 2*least + r; curve > 0 {
			at += min(0.5, max(-0.5, (l-r)/(2*curve)))
		}
	}
	step := nodeStep / fine
	return at*step - float64(nodes/2)*nodeStep, best == 0 || best == len(costs)-1
}
