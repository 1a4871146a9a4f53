package photo

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
)

// alike is the CIEDE2000 up to which two looks are taken for one.
const alike = 2.0

// leaveOutMissing leaves a swatch out that shows the bare top coat although less
// light than it had, and more, burned others plainly: it was skipped. Where a
// lower coat looks like the top one nothing can be said.
func (r reader) leaveOutMissing(readings []swatch.Reading, top colour.Linear) {
	const unburned, plain = 3.0, 10.0 // CIEDE2000
	if r.chart.Kind != swatch.Solid || r.lowerLooksLike(top, plain) {
		return
	}
	m := r.options.machine(r.chart)
	var read []*swatch.Reading
	for i := range readings {
		if readings[i].LinearRGB != nil {
			read = append(read, &readings[i])
		}
	}
	dose := func(s *swatch.Reading) float64 { return burn.Dose(m, s.Setting, 1) }
	slices.SortStableFunc(read, func(a, b *swatch.Reading) int { return cmp.Compare(dose(a), dose(b)) })
	away := func(s *swatch.Reading) float64 { return colour.DE2000(s.LinearRGB.Lab(), top.Lab()) }
	burnedBelow := 0
	var missing []*swatch.Reading
	for i, s := range read {
		last := i == len(read)-1
		if away(s) < unburned && burnedBelow >= 2 && (last || away(read[i+1]) > plain) {
			missing = append(missing, s)
		}
		if away(s) > plain {
			burnedBelow++
		}
	}
	for _, s := range missing {
		s.LinearRGB, s.Scatter = nil, 0
		s.LeftOut = "not burned, although less light burned others: its raster may have been left out"
	}
}

func (r reader) lowerLooksLike(top colour.Linear, near float64) bool {
	if r.chart.Stack == nil {
		return false
	}
	lower := []colour.Stored{r.chart.Stack.Ground.Colour}
	if r.chart.Stack.Curve.ScorchDoseJCM2 > 0 {
		lower = append(lower, r.chart.Stack.Curve.ScorchColour)
	}
	for _, c := range r.chart.Stack.Coats[1:] {
		lower = append(lower, c.Colour)
	}
	return slices.ContainsFunc(lower, func(c colour.Stored) bool { return colour.DE2000(c.Linear().Lab(), top.Lab()) < near })
}

// judged refuses readings that nothing can be learned from, and adds cautions.
func (r reader) judged(res Result) (Result, error) {
	var looks []colour.Linear
	firstReason := ""
	for _, s := range res.Readings.Swatches {
		if s.LinearRGB != nil {
			looks = append(looks, *s.LinearRGB)
		} else {
			firstReason = cmp.Or(firstReason, s.ID+" is "+s.LeftOut)
		}
	}
	if len(looks) == 0 {
		return Result{}, fmt.Errorf("none of the %d swatches can be read, %s: take another photograph", len(res.Readings.Swatches), firstReason)
	}
	if len(looks) > 1 && allAlike(looks) {
		if colour.DE2000(looks[0].Lab(), res.TopCoat.Lab()) < 2*alike {
			return Result{}, errors.New("all swatches look like the top coat: burn a chart with higher powers, or check that this is a photograph of the burned chart")
		}
		return Result{}, errors.New("all swatches look the same, none like the top coat: burn a chart with lower powers, or check that the photograph and the chart belong together")
	}
	if n := len(looks); n < swatch.FewSwatches {
		res.Cautions = append(res.Cautions, fmt.Sprintf("only %d of %d swatches could be read, and a curve wants %d or more: burn a chart with more powers or take another photograph", n, len(res.Readings.Swatches), swatch.FewSwatches))
	}
	return r.cautioned(res), nil
}

func allAlike(looks []colour.Linear) bool {
	for _, l := range looks[1:] {
		if colour.DE2000(l.Lab(), looks[0].Lab()) > alike {
			return false
		}
	}
	return true
}

func (r reader) cautioned(res Result) Result {
	if res.FallOff > 0.5 {
		res.Cautions = append(res.Cautions, fmt.Sprintf("the light loses %.0f %% across the chart: it was evened out, but two lamps or a window farther away do better", 100*res.FallOff))
	}
	const coarse = 4.0
	if res.PerMM < coarse {
		res.Cautions = append(res.Cautions, fmt.Sprintf("the photograph has only %.1f pixels to a millimetre: go nearer for surer readings", res.PerMM))
	}
	if r.chart.MarkSide > 0 && !res.Found && r.view.likeness < likely/2 {
		res.Cautions = append(res.Cautions, "the marks are not seen at the corners that were given: check them")
	}
	return res
}
