package job

import (
	"fmt"
	"math"
	"time"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// Plan is what follows from the numbers of a document alone.
type Plan struct {
	Placement  layout.Placement
	Fit        layout.Fit  // how it can be burned, cut evenly where it is cut
	Travel     layout.Size // of the head, run-up included
	Fits       bool        // in one go
	WhyNot     string      // and what would help
	DoseJCM2   float64     // of an even, fully burned field
	Calibrated bool
	Cautions   []string // about this job; general ones are export.Cautions
}

// Placement is where the raster lies on the panel.
func (d Document) Placement() (layout.Placement, error) {
	return layout.Place(d.Panel, d.Border, d.Setting.Pitch)
}

// Aspect is the picture area's width over its height, which the crop keeps.
func (d Document) Aspect() (float64, error) {
	area, err := d.Panel.PictureArea(d.Border)
	if err != nil {
		return 0, err
	}
	return float64(area.Size.W / area.Size.H), nil
}

// Reach is what the job's machine can get to.
func (d Document) Reach() layout.Reach {
	return layout.Reach{Bed: d.Machine.Bed, RunUp: d.Machine.RunUp}
}

// Plan works out placement, fit and dose.
func (d Document) Plan() (Plan, error) {
	pl, err := d.Placement()
	if err != nil {
		return Plan{}, err
	}
	model, err := d.Stack.Compile(d.LookOptions())
	if err != nil {
		return Plan{}, fmt.Errorf("stack: %w", err)
	}
	reach := d.Reach()
	fit, err := reach.Fit(pl, layout.Cuts{})
	if err != nil {
		return Plan{}, fmt.Errorf("machine: %w", err)
	}
	travel := export.HeadTravel(pl, reach, fit)
	p := Plan{
		Placement:  pl,
		Fit:        fit,
		Travel:     travel,
		Fits:       export.InOneGo(fit),
		WhyNot:     export.WhyNotInOneGo(fit, travel, reach.Bed),
		DoseJCM2:   d.Recipe().FullDose(),
		Calibrated: d.Stack.Curve.Calibrated,
	}
	p.Cautions = d.cautions(p, model)
	return p, nil
}

// LookOptions is how looks are worked out for this job.
func (d Document) LookOptions() coat.Options { return coat.Options{Finish: d.Finish} }

// Recipe is the job as the proof sees it. The document must be valid.
func (d Document) Recipe() proof.Recipe {
	r := proof.Recipe{
		Stack:   d.Stack,
		Options: d.LookOptions(),
		Machine: d.Machine,
		Setting: d.Setting,
		Screen:  d.Screen.options(d.Setting.Pitch),
		Turned:  d.liesTurned(),
	}
	if d.Screen.Kind.Uses().Cells {
		// Without a table the screen takes its own: a document that is not valid
		// is refused by whoever uses the recipe.
		if table, err := beamCells(d.Machine, d.Setting.Pitch, d.Stack, r.FullDose()); err == nil {
			r.Screen.Cells = table
		}
	}
	return r
}

// liesTurned tells whether the panel has to lie a quarter turned on the bed, so that the
// machine's lines run along its height.
func (d Document) liesTurned() bool {
	pl, err := d.Placement()
	if err != nil {
		return false
	}
	fit, err := d.Reach().Fit(pl, layout.Cuts{})
	return err == nil && fit.Turned
}

// BurnTime is how long the machine moves for the given dots, all passes
// together. Without dots (nil) every line counts from edge to edge.
func (d Document) BurnTime(g layout.Grid, dots *plane.Bits) time.Duration {
	whole := layout.MM(g.Cols) * g.Pitch
	spans := func(int) layout.MM { return whole }
	if dots != nil && d.Machine.SkipsBlank {
		spans = func(row int) layout.MM {
			first, last, ok := dots.Span(row)
			if !ok {
				return 0
			}
			return layout.MM(last-first+1) * g.Pitch
		}
	}
	return time.Duration(d.Setting.Passes) * d.Machine.Motion(d.Setting.Speed).RasterTime(spans, g)
}

// EqualDose lists settings of the same dose: half to twice the job's speed, and
// pitches about its own, as far as the machine goes, with the most that each takes.
func (d Document) EqualDose() ([]burn.EqualSetting, error) {
	area, err := d.Panel.PictureArea(d.Border)
	if err != nil {
		return nil, err
	}
	var speeds []layout.MMPerSecond
	for _, f := range []layout.MMPerSecond{0.5, 0.75, 1, 1.5, 2} {
		if v := d.Setting.Speed * f; v <= d.Machine.TopSpeed {
			speeds = append(speeds, v)
		}
	}
	var pitches []layout.MM
	for _, f := range []layout.MM{0.8, 1, 1.25} {
		if p := d.Setting.Pitch * f; p >= layout.MinPitch && p <= layout.MaxPitch {
			pitches = append(pitches, p)
		}
	}
	return burn.EqualDoseTable(d.Machine, d.Setting, area, pitches, speeds)
}

func (d Document) cautions(p Plan, model *coat.Model) []string {
	var out []string
	if !p.Calibrated {
		out = append(out, "this stack has no fitted curve: "+export.Uncalibrated)
	}
	if !p.Fits {
		out = append(out, p.WhyNot)
	}
	if first := model.BreakThrough(0); p.DoseJCM2 < first {
		out = append(out, fmt.Sprintf("the full dose of %.0f J/cm2 does not break through the top coat (%.0f J/cm2): raise the power or slow down", p.DoseJCM2, first))
	}
	if scorch := d.Stack.Curve.ScorchDoseJCM2; scorch > 0 && p.DoseJCM2 > scorch {
		out = append(out, fmt.Sprintf("the full dose of %.0f J/cm2 scorches the ground (from %.0f J/cm2): lower the power", p.DoseJCM2, scorch))
	}
	if leaves := d.chartCaution(); leaves != "" {
		out = append(out, leaves)
	}
	if crop := d.Picture.Crop; crop.W > 0 {
		if larger := float64(p.Placement.Grid.Cols) / crop.W; larger > 2 {
			out = append(out, fmt.Sprintf("the picture is enlarged %.1f times: it will look soft close up; use a larger picture or a wider crop", math.Round(larger*10)/10))
		}
	}
	return out
}
