package picture

import "undercoat/imaging/plane"

// CurveShares is how much of a plane the tone's curve is given of each lightness: its
// shares, which add up to 1, in equal bins of L* from 0 to 100. light is what the black
// and the white point are laid on, as for [Tone.Clipped]; the points, the middle tones
// and the contrast lie between it and the curve. An empty plane has no shares.
func (t Tone) CurveShares(light *plane.Grey16, bins int) ([]float64, error) {
	t.Curve = Curve{}
	if err := t.Validate(); err != nil || len(light.Pix) == 0 {
		return nil, err
	}
	shares := make([]float64, max(1, bins))
	curve, lightness := t.lightness(shareSteps), lightnesses()
	for v, n := range lightCounts(light) {
		if n > 0 {
			to := curve[(int(lightness[v])*shareSteps+lightest/2)/lightest]
			bin := min(int(to/full*float64(len(shares))), len(shares)-1)
			shares[bin] += float64(n) / float64(len(light.Pix))
		}
	}
	return shares, nil
}

// shareSteps are the lightnesses that are taken through the tone, a tenth of L* apart. A
// whole table would take as long as a drag has for a frame.
const shareSteps = 1000
