package compare

import (
	"fmt"
	"math"
	"strings"
)

// combine puts the pieces' factors together: their mean in the logarithm, each weighted
// by the inverse of its variance. The standard error is no less than what evening out
// leaves, which all pieces share, and grows with how little they agree (R. T. Birge, "The
// calculation of errors by the method of least squares", Phys. Rev. 40, 1932, from
// memory).
func (r *TrialResult) combine(powerOffset float64) {
	sum, weights, edges := 0.0, 0.0, 0
	read := r.read()
	for _, p := range read {
		if p.Dose.AtTheEdge {
			edges++
			continue
		}
		w := 1 / (p.Dose.LnSD * p.Dose.LnSD)
		sum, weights = sum+w*math.Log(p.Dose.Factor), weights+w
	}
	if edges == len(read) {
		r.Dose = read[0].Dose
		return
	}
	mean := sum / weights
	off := 0.0
	for _, p := range read {
		if d := (math.Log(p.Dose.Factor) - mean) / p.Dose.LnSD; !p.Dose.AtTheEdge {
			off += d * d
			r.Disagree = r.Disagree || math.Abs(d) > 3
		}
	}
	sd := max(unevened, 1/math.Sqrt(weights))
	if n := float64(len(read) - edges); n > 1 {
		sd *= max(1, math.Sqrt(off/(n-1)))
	}
	r.Disagree = r.Disagree || edges > 0
	r.Dose = DoseFactor{Factor: math.Exp(mean), LnSD: sd, Range95: [2]float64{math.Exp(mean - 1.96*sd), math.Exp(mean + 1.96*sd)}}
	if power := powerOffset + (r.MeantPower-powerOffset)/r.Dose.Factor; power > 0 && power <= 100 {
		r.CloserPower = power
	}
}

// read are the pieces that tell something.
func (r *TrialResult) read() []PieceResult {
	var out []PieceResult
	for _, p := range r.Pieces {
		if p.LeftOut == "" {
			out = append(out, p)
		}
	}
	return out
}

// alikeDE00 is by how much one piece must be nearer to what was meant than another to be
// told from it. Common practice, no source.
const alikeDE00 = 0.3

// say puts the result into words.
func (r *TrialResult) say(calibrated bool) {
	tell := func(format string, args ...any) { r.Words = append(r.Words, fmt.Sprintf(format, args...)) }
	for _, p := range r.Pieces {
		tell("%s", p.words())
	}
	r.sayClosest(tell)
	r.sayDose(tell)
	if !calibrated {
		tell("this stack has no fitted curve, so that a difference may be the curve's: burn a chart")
	}
}

func (p PieceResult) words() string {
	head := fmt.Sprintf("piece %d, %.4g %%: ", p.Number, p.PowerPercent)
	switch d := p.Dose; {
	case p.LeftOut != "":
		return head + "left out, " + p.LeftOut
	case d.AtTheEdge:
		return head + fmt.Sprintf("CIEDE2000 %.1f from its proof in the mean, %.1f from what is meant; no dose between %.2f and %.2f of the one set explains it",
			p.Mean, p.ToMeant, factorAt(0), factorAt(nodes-1))
	default:
		return head + fmt.Sprintf("CIEDE2000 %.1f from its proof in the mean, %.1f from what is meant; looks like %.2f of the dose set (%.2f to %.2f with 95 %%)",
			p.Mean, p.ToMeant, d.Factor, d.Range95[0], d.Range95[1])
	}
}

func (r *TrialResult) sayClosest(tell func(string, ...any)) {
	read := r.read()
	best := read[0]
	for _, p := range read {
		if p.ToMeant < best.ToMeant {
			best = p
		}
	}
	r.Closest = best.PowerPercent
	if len(read) == 1 {
		return
	}
	var alike []string
	for _, p := range read {
		if p.ToMeant < best.ToMeant+alikeDE00 {
			alike = append(alike, fmt.Sprintf("%.4g %%", p.PowerPercent))
		}
	}
	meant := fmt.Sprintf("what is meant, the proof at the job's %.4g %%", r.MeantPower)
	if len(alike) > 1 {
		tell("%s came about equally close to %s", strings.Join(alike, " and "), meant)
		return
	}
	tell("%s came closest to %s", alike[0], meant)
}

func (r *TrialResult) sayDose(tell func(string, ...any)) {
	within := fmt.Sprintf("(%.2f to %.2f with 95 %%)", r.Dose.Range95[0], r.Dose.Range95[1])
	percent := 100 * math.Abs(r.Dose.Factor-1)
	asSet := r.Dose.Range95[0] <= 1 && r.Dose.Range95[1] >= 1
	switch {
	case r.Dose.AtTheEdge:
		tell("no dose between %.2f and %.2f of the one set explains the trial: check the job, the machine and the paint", factorAt(0), factorAt(nodes-1))
		return
	case asSet:
		tell("the dose was as set %s", within)
	case r.Dose.Factor > 1:
		tell("it looks as if burned with %.0f %% more light, or as if the paint were that much thinner %s", percent, within)
	default:
		tell("it looks as if burned with %.0f %% less light, or as if the paint were that much thicker %s", percent, within)
	}
	if r.Disagree {
		tell("the pieces do not tell of one dose: check where the machine's power begins, and the curve at these powers")
	}
	switch {
	case asSet:
	case r.CloserPower > 0:
		tell("%.3g %% of power should look as is meant at %.4g %%", r.CloserPower, r.MeantPower)
	default:
		tell("no power of this machine would make up for it at this speed: burn slower, or in more passes")
	}
}
