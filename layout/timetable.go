package layout

import (
	"errors"
	"fmt"
	"time"
)

// Drying is how the coats are dried between one and the next.
type Drying string

// The ways of drying.
const (
	AirDried Drying = ""         // in the open air
	HeatGun  Drying = "heat gun" // with warm air from a distance
)

// Habits are the times a maker works by. Zero values take the usual ones, which
// are common practice, no source: the can's own words come first.
type Habits struct {
	Drying  Drying
	Pass    time.Duration // spraying one pass or the edges; 0: 5 min
	Between time.Duration // drying after a coat; 0: 30 min, or 5 min with a heat gun
	Cure    time.Duration // from the last coat to the burn; 0: 24 h
	// SetUp is laying the panel down, focus and outline, before the burn; 0: 15 min.
	SetUp time.Duration
	// ClearDry is drying of the clear coat before hanging; 0: 24 h.
	ClearDry time.Duration
}

// longestHabit is the longest a single step may take: four weeks.
const longestHabit = 28 * 24 * time.Hour

func (h Habits) orUsual() (Habits, error) {
	between := 30 * time.Minute
	switch h.Drying {
	case AirDried:
	case HeatGun:
		between = 5 * time.Minute
	default:
		return h, fmt.Errorf("drying %q is unknown: choose heat gun, or nothing for the open air", shortened(string(h.Drying)))
	}
	for _, d := range []struct {
		name  string
		value *time.Duration
		usual time.Duration
	}{
		{"pass", &h.Pass, 5 * time.Minute},
		{"drying between coats", &h.Between, between},
		{"curing", &h.Cure, 24 * time.Hour},
		{"setting up", &h.SetUp, 15 * time.Minute},
		{"drying of the clear coat", &h.ClearDry, 24 * time.Hour},
	} {
		if *d.value < 0 || *d.value > longestHabit {
			return h, fmt.Errorf("%s of %v is not possible: choose a time from 0 to 28 days, 0 for the usual", d.name, *d.value)
		}
		if *d.value == 0 {
			*d.value = d.usual
		}
	}
	return h, nil
}

// Plan is what a timetable is made from.
type Plan struct {
	Panel  Panel
	Coats  []CoatWork // from the top down, as in a stack
	Start  time.Time  // of the first spraying
	Burn   time.Duration
	Clear  bool // a clear coat at the end
	Habits Habits
}

// Timetable is when to do what.
type Timetable struct {
	Steps    []Step
	CanBurn  time.Time // the earliest
	BurnEnds time.Time
	CanHang  time.Time
	Cautions []string
}

// MaxCoats is the most coats a timetable is made for.
const MaxCoats = 50

// Timetable lays out painting, burning and finishing, each step as soon as the
// one before is done. The lowest coat comes first; of each coat the edges, then
// a thin pass one way, then one across.
func (p Plan) Timetable() (Timetable, error) {
	habits, err := p.check()
	if err != nil {
		return Timetable{}, err
	}
	r := rota{now: p.Start}
	for i := len(p.Coats) - 1; i >= 0; i-- {
		r.spray(p, i, habits)
	}
	var t Timetable
	r.add(Step{What: LetCure, Duration: habits.Cure})
	t.CanBurn = r.now
	r.add(Step{What: Burn, Duration: habits.SetUp + p.Burn})
	t.BurnEnds = r.now
	for _, step := range After(p.Panel.Kind, p.Clear) {
		if step.What == ClearDry {
			step.Duration = habits.ClearDry
		}
		if step.What == Hang {
			t.CanHang = r.now
		}
		r.add(step)
	}
	t.Steps = r.steps
	t.Cautions = p.cautions(habits, r.steps)
	return t, nil
}

func (p Plan) check() (Habits, error) {
	if err := p.Panel.Validate(); err != nil {
		return Habits{}, err
	}
	if len(p.Coats) < 1 || len(p.Coats) > MaxCoats {
		return Habits{}, fmt.Errorf("%d coats are not possible: give 1 to %d, from the top down", len(p.Coats), MaxCoats)
	}
	for i, c := range p.Coats {
		if err := c.validate(i); err != nil {
			return Habits{}, err
		}
	}
	if p.Start.IsZero() {
		return Habits{}, errors.New("the timetable has no start: choose a day and a time")
	}
	if p.Burn < 0 || p.Burn > longestHabit {
		return Habits{}, fmt.Errorf("burn of %v is not possible: choose a setting that takes from 0 to 28 days", p.Burn)
	}
	return p.Habits.orUsual()
}

// rota adds steps one after another.
type rota struct {
	steps []Step
	now   time.Time
}

func (r *rota) add(s Step) {
	s.Start = r.now
	r.steps = append(r.steps, s)
	r.now = s.End()
}

// spray adds a coat and its drying. After the last coat curing comes instead.
func (r *rota) spray(p Plan, i int, h Habits) {
	add := func(what What, d time.Duration, cautions ...string) {
		r.add(Step{What: what, Duration: d, Coat: p.Coats[i].Name, Layer: i + 1, Cautions: cautions})
	}
	if p.Panel.EdgeDepth > 0 {
		add(SprayEdges, h.Pass)
	}
	add(SprayAlong, h.Pass)
	add(SprayAcross, h.Pass)
	if h.Drying == HeatGun {
		add(WarmDry, h.Between, heatGunCaution)
	} else if i > 0 {
		add(LetDry, h.Between)
	}
}
