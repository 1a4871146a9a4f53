package compare

import (
	"errors"
	"image"
	"math"
	"slices"

	"undercoat/imaging/colour"
)

// refinings is how often the factor of each piece is sought anew at the most.
const refinings = 8

// result reads the pieces of the straightened photograph.
func (c *trialOn) result() (*TrialResult, error) {
	r := &TrialResult{MeantPower: c.folder.MeantPower}
	for i, p := range c.folder.Pieces {
		r.Pieces = append(r.Pieces, PieceResult{Number: i + 1, PowerPercent: p.PowerPercent, LeftOut: c.unlike(i)})
	}
	if !slices.ContainsFunc(r.Pieces, func(p PieceResult) bool { return p.LeftOut == "" }) {
		return nil, errors.New("the photograph does not show the pieces of this trial: check the photograph, the folder and the four corners")
	}
	at, err := c.factors(r.Pieces)
	if err != nil {
		return nil, err
	}
	even, err := evened(c.photo, c.mixed(c.nodes, c.owner, at))
	if err != nil {
		return nil, err
	}
	c.measure(r, even)
	r.combine(c.Recipe.Machine.PowerOffsetPercent)
	r.say(c.Recipe.Stack.Curve.Calibrated)
	return r, nil
}

// unlike says why a piece of the photograph tells nothing: it does not look like its
// proof at any dose. A piece without detail has none to be told by.
func (c *trialOn) unlike(i int) string {
	const leastDetail = 2.0 // L*, as a standard deviation
	seen := c.photo.cropped(c.pieces[i]).lightness(2)
	for _, node := range c.nodes {
		should := node.cropped(c.pieces[i]).lightness(2)
		if deviation(should) < leastDetail || correlation(seen, should) >= leastLike {
			return ""
		}
	}
	return "it does not look like its proof at any dose"
}

func deviation(v []float64) float64 {
	sum, squares := 0.0, 0.0
	for _, x := range v {
		sum, squares = sum+x, squares+x*x
	}
	n := float64(len(v))
	return math.Sqrt(max(0, squares/n-sum*sum/n/n))
}

// search is how the pieces' factors are sought, on the reduced view.
type search struct {
	*trialOn
	seen  *looks
	nodes []*looks
	owner []int
}

// factors finds the dose factor of each piece, fills them in, and gives their logarithms.
// The first search takes the same factor for all; the light is evened out over all
// pieces together, so that those with unlike factors are sought anew beside each other.
func (c *trialOn) factors(pieces []PieceResult) ([]float64, error) {
	s := &search{trialOn: c, seen: c.photo.reduced(), nodes: make([]*looks, nodes)}
	s.owner = make([]int, s.seen.w)
	for x := range s.owner {
		s.owner[x] = c.owner[min(c.w-1, x*reducedBy)]
	}
	evens := make([]*looks, nodes)
	for i, n := range c.nodes {
		s.nodes[i] = n.reduced()
		var err error
		if evens[i], err = evened(s.seen, s.nodes[i]); err != nil {
			return nil, err
		}
	}
	at := make([]float64, len(pieces))
	for i := range pieces {
		if pieces[i].LeftOut != "" {
			continue
		}
		d, err := s.factor(i, 0, nodes-1, func(node int) (even, should *looks, err error) { return evens[node], s.nodes[node], nil })
		if err != nil {
			return nil, err
		}
		pieces[i].Dose, at[i] = d, math.Log(d.Factor)
	}
	const settled = 0.004
	for round := 0; round < refinings && len(pieces) > 1; round++ {
		moved, err := s.refine(pieces, at)
		if err != nil || moved < settled {
			return at, err
		}
	}
	return at, nil
}

// refine seeks each piece's factor once more about where it was, beside the others at
// theirs, and tells how far the farthest has moved.
func (s *search) refine(pieces []PieceResult, at []float64) (float64, error) {
	const reach = 2 // nodes to either side
	moved := 0.0
	for i := range pieces {
		if pieces[i].LeftOut != "" {
			continue
		}
		middle := int(math.Round(at[i]/nodeStep)) + nodes/2
		try := slices.Clone(at)
		d, err := s.factor(i, max(0, middle-reach), min(nodes-1, middle+reach), func(node int) (even, should *looks, err error) {
			try[i] = math.Log(factorAt(node))
			should = s.mixed(s.nodes, s.owner, try)
			even, err = evened(s.seen, should)
			return even, should, err
		})
		if err != nil {
			return 0, err
		}
		moved = max(moved, math.Abs(math.Log(d.Factor)-at[i]))
		pieces[i].Dose, at[i] = d, math.Log(d.Factor)
	}
	return moved, nil
}

// factor searches, from one node to another, for the factor under which a piece looks
// most like the photograph. of gives the photograph evened out at a node, and the proof.
func (s *search) factor(i, from, to int, of func(node int) (even, should *looks, err error)) (DoseFactor, error) {
	part := reducedRect(s.pieces[i], s.seen)
	side := max(2, min(part.Dx(), part.Dy())/5)
	across, down := (part.Dx()+side-1)/side, (part.Dy()+side-1)/side
	const never = 1e9 // the cost where nothing is sought
	costs := make([][]float64, (nodes-1)*fine+1)
	for k := range costs {
		costs[k] = make([]float64, across*down)
		if k < from*fine || k > to*fine {
			for b := range costs[k] {
				costs[k][b] = never
			}
		}
	}
	var before, after [2]*looks
	for node := from; node <= to; node++ {
		if err := s.ctx.Err(); err != nil {
			return DoseFactor{}, err
		}
		even, should, err := of(node)
		if err != nil {
			return DoseFactor{}, err
		}
		before, after = after, [2]*looks{even.cropped(part), should.cropped(part)}
		for k := 0; node > from && k < fine; k++ {
			addCosts(costs[(node-1)*fine+k], before, after, float32(k)/fine, side, across)
		}
	}
	addCosts(costs[to*fine], before, after, 1, side, across)
	return factorOf(costs), nil
}

// mixed is the scrap with each piece at its own factor, given by its logarithm: between
// two nodes looks run straight.
func (c *trialOn) mixed(all []*looks, owner []int, at []float64) *looks {
	out := newLooks(all[0].w, all[0].h)
	low, share := make([]int, len(at)), make([]float32, len(at))
	for i, ln := range at {
		place := ln/nodeStep + float64(nodes/2)
		low[i] = min(nodes-2, max(0, int(math.Floor(place+1e-9))))
		share[i] = float32(min(1, max(0, place-float64(low[i]))))
	}
	for k := range out.pix {
		i := owner[k%out.w]
		a, b := all[low[i]].pix[k], all[low[i]+1].pix[k]
		for ch := range 3 {
			out.pix[k][ch] = a[ch] + share[i]*(b[ch]-a[ch])
		}
	}
	return out
}

// reducedRect is a rectangle of the view in its reduced copy.
func reducedRect(r image.Rectangle, small *looks) image.Rectangle {
	out := image.Rect(r.Min.X/reducedBy, r.Min.Y/reducedBy, (r.Max.X+reducedBy-1)/reducedBy, (r.Max.Y+reducedBy-1)/reducedBy)
	return out.Intersect(image.Rect(0, 0, small.w, small.h))
}

// cropped is a part of the looks.
func (l *looks) cropped(r image.Rectangle) *looks {
	out := newLooks(r.Dx(), r.Dy())
	for y := range out.h {
		copy(out.pix[y*out.w:(y+1)*out.w], l.pix[(r.Min.Y+y)*l.w+r.Min.X:])
	}
	return out
}

// measure fills in the colour differences of the pieces, their views and their map.
func (c *trialOn) measure(r *TrialResult, even *looks) {
	seen, asSet, meant := even.soft(), c.nodes[nodes/2].soft(), c.meant().soft()
	var whole Result
	whole.measure(seen, asSet)
	r.Photo, r.Proof, r.Map = seen.shown(), asSet.shown(), whole.Map
	for i := range r.Pieces {
		p := &r.Pieces[i]
		if p.LeftOut != "" {
			continue
		}
		part := seen.cropped(c.pieces[i])
		var one Result
		one.measure(part, asSet.cropped(c.pieces[i]))
		p.Mean, p.P95, p.Largest = one.Mean, one.P95, one.Largest
		target := meant.cropped(c.pieces[i])
		for k := range part.pix {
			p.ToMeant += colour.DE2000(part.lab(k), target.lab(k)) / float64(len(part.pix))
		}
	}
}
