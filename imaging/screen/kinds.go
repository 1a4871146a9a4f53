package screen

import "strings"

// Kind names a screen; the empty Kind reads as FloydSteinberg.
type Kind string

// The screens. Those down to Atkinson diffuse errors, the rest compare each tint
// with a threshold of its place.
const (
	FloydSteinberg    Kind = "floyd-steinberg"
	BeamAware         Kind = "beam-aware"
	JarvisJudiceNinke Kind = "jarvis-judice-ninke"
	Stucki            Kind = "stucki"
	Burkes            Kind = "burkes"
	Sierra            Kind = "sierra"
	SierraTwoRow      Kind = "sierra-two-row"
	SierraLite        Kind = "sierra-lite"
	Atkinson          Kind = "atkinson"
	BlueNoise         Kind = "blue-noise"
	Clustered         Kind = "clustered"
	Bayer             Kind = "bayer"
	Threshold         Kind = "threshold"
)

// Uses tells which options a kind takes notice of, besides Plain.
type Uses struct {
	Direction bool // OneWay
	Runs      bool // MinDot and MinGap
	Cells     bool
	Matrix    bool
	Lines     bool // LinesPerCM, AngleDegrees, Spot and Pitch
	Seed      bool
}

var usesOfDiffusion = Uses{Direction: true, Runs: true, Seed: true}

// entry is what is known of a kind.
type entry struct {
	kind     Kind
	uses     Uses
	describe string
	make     func(width int, o Options) Screener
}

// screens is every kind there is, in the order they are shown.
var screens = []entry{
	{FloydSteinberg, usesOfDiffusion, "the usual choice for photographs: fine grain, sharp edges", diffusing(floydSteinbergKernel)},
	{BeamAware, Uses{Direction: true, Runs: true, Cells: true, Seed: true}, "for a beam wider than the pitch: counts what dots burn together, so that tones come out as asked", newBeamAware},
	{BlueNoise, Uses{Seed: true}, "even grain without worms or lines: for soft skies and skin", newBlueNoise},
	{JarvisJudiceNinke, usesOfDiffusion, "crisper than the usual choice, with coarser grain: for pictures full of fine structure", diffusing(jarvisJudiceNinkeKernel)},
	{Stucki, usesOfDiffusion, "much as jarvis-judice-ninke, a little crisper", diffusing(stuckiKernel)},
	{Burkes, usesOfDiffusion, "between the usual choice and stucki", diffusing(burkesKernel)},
	{Sierra, usesOfDiffusion, "much as jarvis-judice-ninke, a little softer", diffusing(sierraKernel)},
	{SierraTwoRow, usesOfDiffusion, "as sierra, with grain nearer to the usual choice", diffusing(sierraTwoRowKernel)},
	{SierraLite, usesOfDiffusion, "close to the usual choice, with the simplest of filters", diffusing(sierraLiteKernel)},
	{Atkinson, usesOfDiffusion, "open, drawn look, as on the screens of the 1980s: for portraits and line drawings", newAtkinson},
	{Clustered, Uses{Lines: true}, "dots in cells, as in a newspaper, or lines: for paints in which single dots do not burn reliably, and as a style", newClustered},
	{Bayer, Uses{Matrix: true, Seed: true}, "a regular cross-hatched weave: as a style", newBayer},
	{Threshold, Uses{}, "no grey at all, all or nothing at half: for lettering and line art", newThreshold},
}

// diffusing makes screens by a kernel.
func diffusing(k kernel) func(width int, o Options) Screener {
	return func(width int, o Options) Screener {
		edge := margin
		if o.Plain {
			edge = 0
		}
		d := newDiffuser(width+2*edge, edge, k, o)
		if o.Plain {
			return d
		}
		return newEndless(width, o, d)
	}
}

// newDiffuser chooses the fastest diffuser for a kernel: the usual screen has one
// of its own, which knows no runs.
func newDiffuser(width, margin int, k kernel, o Options) diffuser {
	if k == floydSteinbergKernel && newRuns(0, 0, o) == nil {
		return newFloydSteinberg(width, o)
	}
	return newSpread(width, margin, k, o)
}

// Kinds lists the screens, the usual one first.
func Kinds() []Kind {
	kinds := make([]Kind, len(screens))
	for i, s := range screens {
		kinds[i] = s.kind
	}
	return kinds
}

// Describe says in one line when to use a kind; it is empty for an unknown one.
func Describe(k Kind) string {
	if e := k.entry(); e != nil {
		return e.describe
	}
	return ""
}

// Uses tells which options the kind takes notice of; none for an unknown one.
func (k Kind) Uses() Uses {
	if e := k.entry(); e != nil {
		return e.uses
	}
	return Uses{}
}

// entry is nil for an unknown kind.
func (k Kind) entry() *entry {
	if k == "" {
		k = FloydSteinberg
	}
	for i := range screens {
		if screens[i].kind == k {
			return &screens[i]
		}
	}
	return nil
}

func names() string {
	var list []string
	for _, k := range Kinds() {
		list = append(list, string(k))
	}
	return strings.Join(list, ", ")
}
