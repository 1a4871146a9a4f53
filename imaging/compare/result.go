package compare

import (
	"fmt"
	"image"
	"math"
	"slices"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// Result is how the finished panel and its proof compare.
type Result struct {
	Corners [4]layout.PicturePoint // of the panel in the photograph, as aligned
	// CIEDE2000 between the photograph, its light evened out, and the proof as set, both
	// softened so that dots do not count.
	Mean, Median, P95, Largest float64
	Dose                       DoseFactor
	// Shares of the panel on which another coat shows than was meant: one further
	// down or more, and one further up or more.
	Deeper, Shallower float64
	CloserPower       float64 // the power that would have come closer, percent; 0 where none in range
	Words             []string
	Photo             *image.RGBA // straightened and evened out
	Proof             *image.RGBA // the same view as set
	Map               *image.RGBA // CIEDE2000 from 0, white, to MapFull and more, black
}

// MapFull is the CIEDE2000 that is drawn black in the map.
const MapFull = 20

func (c *comparison) result(photo, asSet *looks, corners [4]layout.PicturePoint) (*Result, error) {
	r := &Result{Corners: corners}
	var err error
	if r.Dose, err = c.doseFactor(photo); err != nil {
		return nil, err
	}
	likest, err := c.proofAt(r.Dose.Factor)
	if err != nil {
		return nil, err
	}
	even, err := evened(photo, likest)
	if err != nil {
		return nil, err
	}
	r.measure(even.soft(), asSet.soft())
	r.Photo, r.Proof = even.shown(), asSet.shown()
	if err := c.depths(r); err != nil {
		return nil, err
	}
	m := c.Recipe.Machine
	power := m.PowerOffsetPercent + (c.Recipe.Setting.PowerPercent-m.PowerOffsetPercent)/r.Dose.Factor
	if power > 0 && power <= 100 {
		r.CloserPower = power
	}
	r.say(c)
	return r, nil
}

// measure fills in the colour differences and their map.
func (r *Result) measure(photo, proof *looks) {
	all := make([]float64, len(photo.pix))
	r.Map = image.NewRGBA(image.Rect(0, 0, photo.w, photo.h))
	for i := range all {
		all[i] = colour.DE2000(photo.lab(i), proof.lab(i))
		r.Mean += all[i] / float64(len(all))
		v := uint8(255 * (1 - min(1, all[i]/MapFull)))
		copy(r.Map.Pix[4*i:], []byte{v, v, v, 255})
	}
	slices.Sort(all)
	r.Median, r.P95, r.Largest = all[len(all)/2], all[len(all)*95/100], all[len(all)-1]
}

func (l *looks) shown() *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, l.w, l.h))
	for i, p := range l.pix {
		s := colour.Linear{R: float64(p[0]), G: float64(p[1]), B: float64(p[2])}.Stored()
		copy(img.Pix[4*i:], []byte{s.R, s.G, s.B, 255})
	}
	return img
}

// depths counts where another coat shows most than was meant, with and without the
// factor, over the raster's dots in squares as large as a pixel of the view.
func (c *comparison) depths(r *Result) error {
	meant, err := c.layers(1)
	if err != nil {
		return err
	}
	got, err := c.layers(r.Dose.Factor)
	if err != nil {
		return err
	}
	cols, rows := c.Raster.Size()
	by := max(1, cols/viewLong)
	shares, sums := make([]float32, cols), make([]float32, cols/by)
	n := 0.0
	for y := 0; y+by <= rows; y += by {
		clear(sums)
		for row := range by {
			c.Raster.ShareRow(y+row, shares)
			for x := range sums {
				for _, s := range shares[x*by : (x+1)*by] {
					sums[x] += s
				}
			}
		}
		for _, s := range sums {
			tint := int(math.Round(float64(s) / float64(by*by) * (tints - 1)))
			switch a, b := meant[min(tint, tints-1)], got[min(tint, tints-1)]; {
			case b > a:
				r.Deeper++
			case b < a:
				r.Shallower++
			}
			n++
		}
	}
	r.Deeper, r.Shallower = r.Deeper/max(1, n), r.Shallower/max(1, n)
	return nil
}

const tints = 256

// layers is which layer of the stack shows most at each share of the full dose, at a
// factor on it: dots that burn or not are an even tint, powers for each dot an even dose.
func (c *comparison) layers(factor float64) ([tints]int, error) {
	var out [tints]int
	recipe := c.Recipe
	recipe.Machine.OpticalPowerW *= factor
	table, err := proof.NewTintTable(c.ctx, recipe)
	if err != nil {
		return out, err
	}
	_, screened := burn.Dots(c.Raster)
	for i := range out {
		share := float64(i) / (tints - 1)
		if screened {
			out[i] = most(table.Coverage(uint16(math.Round(share * math.MaxUint16))))
		} else {
			out[i] = most(table.Model().ShowThrough(share * recipe.FullDose()).Coverage)
		}
	}
	return out, nil
}

// most is the layer that shows most.
func most(coverage []float64) int {
	best := 0
	for i, v := range coverage {
		if v > coverage[best] {
			best = i
		}
	}
	return best
}

// say puts the result into words.
func (r *Result) say(c *comparison) {
	tell := func(format string, args ...any) { r.Words = append(r.Words, fmt.Sprintf(format, args...)) }
	switch {
	case r.Mean <= 2.5 && r.Largest <= 10:
		tell("the panel came out close to its proof: CIEDE2000 %.1f in the mean", r.Mean)
	default:
		tell("the panel differs from its proof by CIEDE2000 %.1f in the mean, %.1f or less on 95 %% of it", r.Mean, r.P95)
	}
	percent := 100 * math.Abs(r.Dose.Factor-1)
	within := fmt.Sprintf("(%.2f to %.2f with 95 %%)", r.Dose.Range95[0], r.Dose.Range95[1])
	switch {
	case r.Dose.AtTheEdge:
		tell("no dose between %.2f and %.2f of the one set explains it: check the job, the machine and the paint", factorAt(0), factorAt(nodes-1))
		r.CloserPower = 0
		return
	case r.Dose.Range95[0] <= 1 && r.Dose.Range95[1] >= 1:
		tell("the dose was as set %s", within)
	case r.Dose.Factor > 1:
		tell("it looks as if burned with %.0f %% more light, or as if the paint were that much thinner %s", percent, within)
	default:
		tell("it looks as if burned with %.0f %% less light, or as if the paint were that much thicker %s", percent, within)
	}
	if r.Deeper > 0.005 {
		tell("too deep: %.0f %% of the picture at least one coat further than meant", 100*r.Deeper)
	}
	if r.Shallower > 0.005 {
		tell("too shallow: %.0f %% of the picture at least one coat less far than meant", 100*r.Shallower)
	}
	if !(r.Dose.Range95[0] <= 1 && r.Dose.Range95[1] >= 1) {
		if r.CloserPower > 0 {
			tell("%.3g %% of power would have come closer than %.3g %%", r.CloserPower, c.Recipe.Setting.PowerPercent)
		} else {
			tell("no power of this machine would have made up for it at this speed: burn slower, or in more passes")
		}
	}
	if !c.Recipe.Stack.Curve.Calibrated {
		tell("this stack has no fitted curve, so that a difference may be the curve's: burn a chart")
	}
}
