package proof

import (
	"context"
	"fmt"
	"image"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

// Cut is the stack cut through at one place.
type Cut struct {
	DoseJCM2 float64
	DepthUM  float64
	Coats    []CutCoat // from the top down
	// GroundShows is the share of area on which the ground is bare, Scorched the
	// share of that which has darkened.
	GroundShows, Scorched float64
	Look                  colour.Linear
	Calibrated            bool
}

// CutCoat is one coat in a cut.
type CutCoat struct {
	Name        string
	Colour      colour.Stored // as painted, without finish
	ThicknessUM float64
	LeftUM      float64 // what the burn leaves of it
	Shows       float64 // share of area on which it is what one sees
}

// Core cuts the stack at a place which got a dose in J/cm2.
func Core(m *coat.Model, doseJCM2 float64) Cut {
	shown := m.ShowThrough(doseJCM2)
	return cut(m, doseJCM2, shown.DepthUM, shown.Coverage, shown.Scorched, shown.Look)
}

func cut(m *coat.Model, doseJCM2, depthUM float64, coverage []float64, scorched float64, look colour.Linear) Cut {
	stack := m.Stack()
	c := Cut{
		DoseJCM2: doseJCM2, DepthUM: depthUM, Look: look, Calibrated: m.Calibrated(),
		GroundShows: coverage[len(stack.Coats)], Scorched: scorched,
	}
	for i, p := range stack.Coats {
		left := min(p.ThicknessUM, max(0, stack.DepthOfUM(i)-depthUM))
		c.Coats = append(c.Coats, CutCoat{p.Name, p.Colour, p.ThicknessUM, left, coverage[i]})
	}
	return c
}

// CoreAt cuts the panel at the point (x, y) of the raster, in dots from its
// upper left corner. The point must lie within the raster.
func CoreAt(ctx context.Context, r Recipe, raster burn.Source, x, y float64) (Cut, error) {
	if err := r.Validate(); err != nil {
		return Cut{}, err
	}
	if w, h := raster.Size(); !(x >= 0 && y >= 0 && x < float64(w) && y < float64(h)) {
		return Cut{}, fmt.Errorf("point %g, %g does not lie in the raster of %d x %d dots: choose one inside", x, y, w, h)
	}
	model, err := r.Stack.Compile(r.Options)
	if err != nil {
		return Cut{}, err
	}
	dot := image.Pt(int(x), int(y))
	column, row := int((x-float64(dot.X))*MaxGrid), int((y-float64(dot.Y))*MaxGrid)
	dose := 0.0
	err = burn.Expose(ctx, r.Machine, r.Setting, r.Stack.Curve.Passes(), raster, image.Rectangle{Min: dot, Max: dot.Add(image.Pt(1, 1))}, MaxGrid,
		func(i int, doses []float32) error {
			if i == row {
				dose = float64(doses[column])
			}
			return nil
		})
	if err != nil {
		return Cut{}, err
	}
	return Core(model, dose), nil
}

// Core cuts the panel where an even tint, 0..65535, is burned: all its values
// are means over the dots.
func (t *TintTable) Core(tint uint16) Cut {
	i, f := between(tint)
	dose, depth, scorched := t.meanCut(i)
	if f > 0 {
		dose1, depth1, scorched1 := t.meanCut(i + 1)
		dose, depth, scorched = dose+f*(dose1-dose), depth+f*(depth1-depth), scorched+f*(scorched1-scorched)
	}
	return cut(t.model, dose, depth, t.Coverage(tint), scorched, t.Look(tint))
}

// meanCut is the mean dose and depth of the tint i, and the darkened share of
// its bare ground.
func (t *TintTable) meanCut(i int) (dose, depth, scorched float64) {
	full, ground := t.recipe.FullDose(), 0.0
	for j, w := range t.tiles.share[i] {
		share := float64(w)
		d := full * float64(nodeDose(t.tiles.first[i]+j))
		shown := t.model.ShowThrough(d)
		bare := share * shown.Coverage[t.model.Coats()]
		dose += share * d
		depth += share * shown.DepthUM
		ground += bare
		scorched += bare * shown.Scorched
	}
	if ground > 0 {
		scorched /= ground
	}
	return dose, depth, scorched
}
