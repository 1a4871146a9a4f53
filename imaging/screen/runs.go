package screen

// mostError is how far an error may grow where the dots are not free to follow it.
const mostError = 4 * full

// runs keeps burned dots and gaps along a row from being shorter than a machine
// can mark. A dot once burned is followed by burned ones up to the least length,
// and so is a gap by gaps; error diffusion makes good for it afterwards. The
// picture comes first: a tint of 0 never burns and one of 65535 always does, so a
// run starts only where the tints leave room for it. What is drawn finer than the
// least length, in pure tints, is burned as it is drawn. Past the raster's edge
// nothing burns: a run ends before it, a gap may reach it.
type runs struct {
	minDot, minGap int
	from, to       int     // the raster's dots; those on either side are thought up
	dotRoom        []uint8 // how many dots on, this one included, are free to burn
	gapRoom        []uint8 // and free to stay
	entry          int     // the first dot of the raster, the way the row runs
	burning        bool
	owed           int // dots until it may change
}

// MaxRun is the largest MinDot and MinGap.
const MaxRun = 16

// newRuns gives nil where any length will do. Of the row's dots all but margin at
// either end lie in the raster.
func newRuns(width, margin int, o Options) *runs {
	if o.MinDot <= 1 && o.MinGap <= 1 {
		return nil
	}
	return &runs{
		minDot: max(1, o.MinDot), minGap: max(1, o.MinGap), from: margin, to: width - margin,
		dotRoom: make([]uint8, width), gapRoom: make([]uint8, width),
	}
}

// look prepares for a row that is decided by steps of +1 or -1.
func (r *runs) look(tints []uint16, step int) {
	r.burning, r.owed = false, 0
	r.entry = r.from
	ends := [2]int{r.from - 1, r.to - 1} // the last dots before an edge
	x := len(tints) - 1
	if step < 0 {
		x, r.entry, ends = 0, r.to-1, [2]int{r.to, r.from}
	}
	dotRoom, gapRoom := uint8(0), uint8(MaxRun)
	for range tints {
		if x == ends[0] || x == ends[1] {
			dotRoom, gapRoom = 0, MaxRun
		}
		dotRoom, gapRoom = min(dotRoom+1, MaxRun), min(gapRoom+1, MaxRun)
		switch tints[x] {
		case 0:
			dotRoom = 0
		case 65535:
			gapRoom = 0
		}
		r.dotRoom[x], r.gapRoom[x] = dotRoom, gapRoom
		x -= step
	}
}

// next decides the dot x, which wants to burn or not.
func (r *runs) next(x int, wants bool) bool {
	if x == r.entry { // a run from beyond the edge does not exist
		r.burning, r.owed = false, 0
	}
	switch {
	case r.dotRoom[x] == 0:
		wants = false
	case r.gapRoom[x] == 0:
		wants = true
	case r.owed > 0:
		wants = r.burning
	case wants && !r.burning:
		wants = int(r.dotRoom[x]) >= r.minDot
	case !wants && r.burning:
		wants = int(r.gapRoom[x]) < r.minGap
	}
	r.owed--
	if wants != r.burning {
		r.burning, r.owed = wants, r.minGap-1
		if wants {
			r.owed = r.minDot - 1
		}
	}
	return wants
}
