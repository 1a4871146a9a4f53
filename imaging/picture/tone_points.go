package picture

import (
	"fmt"
	"math"

	"undercoat/imaging/plane"
)

// Clipped is how much of a plane the black and the white point cut off: the shares,
// 0..1, of pixels that are darker than the one and lighter than the other. light is
// what the points are laid on: the picture's light, after noise and local contrast
// where there are any. An empty plane has nothing to clip. It looks at each pixel
// once, so a view is quicker than the picture and tells the same.
func (t Tone) Clipped(light *plane.Grey16) (low, high float64) {
	counts := lightCounts(light)
	black, white := t.Black*perLStar, t.white()*perLStar
	lightness := lightnesses()
	var dark, bright, all float64
	for v, n := range counts {
		all += float64(n)
		switch l := float64(lightness[v]); {
		case l < black:
			dark += float64(n)
		case l > white:
			bright += float64(n)
		}
	}
	if all == 0 {
		return 0, 0
	}
	return dark / all, bright / all
}

// SuggestPoints gives the black and the white point that cut off no more than a
// share of the pixels each, 0 to 0.1, in steps of a tenth of L*. A plane of one
// lightness has nothing to stretch and keeps 0 and 100.
func SuggestPoints(light *plane.Grey16, share float64) (black, white float64, err error) {
	if !(share >= 0 && share <= 0.1) {
		return 0, 0, fmt.Errorf("share %v of clipped pixels is outside 0 to 0.1: choose one in that range, such as 0.002", share)
	}
	counts := lightCounts(light)
	most := share * float64(len(light.Pix))
	lightness := lightnesses()
	first, last := 0, full
	for n := 0.0; first < full; first++ {
		if n += float64(counts[first]); n > most {
			break
		}
	}
	for n := 0.0; last > 0; last-- {
		if n += float64(counts[last]); n > most {
			break
		}
	}
	black = math.Floor(float64(lightness[first])/perLStar*10) / 10
	white = math.Ceil(float64(lightness[last])/perLStar*10) / 10
	if white < black+leastSpan || len(light.Pix) == 0 {
		return 0, 100, nil
	}
	return black, math.Min(white, 100), nil
}

func lightCounts(light *plane.Grey16) *[full + 1]uint32 {
	var counts [full + 1]uint32
	for _, v := range light.Pix {
		counts[v]++
	}
	return &counts
}
