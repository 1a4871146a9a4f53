package layout

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var saturday = time.Date(2030, time.May, 4, 9, 0, 0, 0, time.FixedZone("here", 2*3600))

func canvasPlan() Plan {
	return Plan{
		Panel: Panel{Kind: Canvas, Size: Size{304.8, 406.4}, EdgeDepth: 38.1},
		Coats: []CoatWork{{Name: "graphite"}, {Name: "teal"}, {Name: "white"}},
		Start: saturday, Burn: 8*time.Hour + 10*time.Minute, Clear: true,
	}
}

// The times between coats and before the burn are common practice, no source.
func TestTimetable(t *testing.T) {
	got, err := canvasPlan().Timetable()
	require.NoError(t, err)
	var lines []string
	for _, s := range got.Steps {
		lines = append(lines, ClockOf(saturday, s.Start).String()+" "+s.String())
	}
	require.Equal(t, []string{
		"09:00 white: spray the edges",
		"09:05 white: spray one way",
		"09:10 white: spray across",
		"09:15 white: let dry",
		"09:45 teal: spray the edges",
		"09:50 teal: spray one way",
		"09:55 teal: spray across",
		"10:00 teal: let dry",
		"10:30 graphite: spray the edges",
		"10:35 graphite: spray one way",
		"10:40 graphite: spray across",
		"10:45 let cure before burning",
		"10:45 the next day burn",
		"19:10 the next day wipe slightly damp",
		"19:15 the next day wipe dry",
		"19:20 the next day try the clear coat on a scrap",
		"19:30 the next day clear coat",
		"19:40 the next day let the clear coat dry",
		"19:40 two days later touch up the edges",
		"19:50 two days later hang",
	}, lines)
	require.Equal(t, "10:45 the next day", ClockOf(saturday, got.CanBurn).String())
	require.Equal(t, "19:10 the next day", ClockOf(saturday, got.BurnEnds).String())
	require.Equal(t, "19:50 two days later", ClockOf(saturday, got.CanHang).String())
	require.Equal(t, 3, got.Steps[0].Layer, "the lowest coat comes first")
	require.Equal(t, canFirst, got.Cautions[0])
	require.Equal(t, "let cure before burning", string(got.Steps[11].What))
}

func TestTimetableWithAHeatGun(t *testing.T) {
	plan := canvasPlan()
	plan.Panel.EdgeDepth, plan.Habits.Drying, plan.Habits.Cure = 0, HeatGun, 6*time.Hour
	got, err := plan.Timetable()
	require.NoError(t, err)
	warm := 0
	for _, s := range got.Steps {
		require.NotEqual(t, SprayEdges, s.What, "the panel has no edges")
		if s.What == WarmDry {
			warm++
			require.Equal(t, 5*time.Minute, s.Duration)
			require.Contains(t, s.Cautions[0], "vapour")
		}
	}
	require.Equal(t, 3, warm)
	require.Equal(t, 3*15*time.Minute+6*time.Hour, got.CanBurn.Sub(saturday))
	require.Contains(t, strings.Join(got.Cautions, "\n"), "6 h from the last coat to the burn is less than the usual 24 h")
}

// Source: instructions for general-purpose enamel sprays: second coat within 1 h
// or after 48 h, theprospect.net.
func TestTimetableWarnsOfWrinkles(t *testing.T) {
	for between, want := range map[time.Duration]bool{
		30 * time.Minute: false, 45 * time.Minute: false, 3 * time.Hour: true, 47 * time.Hour: true, 48 * time.Hour: false,
	} {
		plan := canvasPlan()
		plan.Habits.Between = between
		got, err := plan.Timetable()
		require.NoError(t, err)
		require.Equal(t, want, strings.Contains(strings.Join(got.Cautions, "\n"), "wrinkle"), between)
	}
}

func TestTimetableWarnsOfTheNight(t *testing.T) {
	plan := canvasPlan()
	plan.Start = saturday.Add(9 * time.Hour)
	got, err := plan.Timetable()
	require.NoError(t, err)
	require.Contains(t, strings.Join(got.Cautions, "\n"), `"burn" from 19:45 runs into the night`)

	plan.Start = saturday
	got, err = plan.Timetable()
	require.NoError(t, err)
	require.NotContains(t, strings.Join(got.Cautions, "\n"), "night")
}

func TestTimetableRefuses(t *testing.T) {
	for name, spoil := range map[string]func(*Plan){
		"panel":      func(p *Plan) { p.Panel.Size.W = MM(math.NaN()) },
		"no coats":   func(p *Plan) { p.Coats = nil },
		"many coats": func(p *Plan) { p.Coats = make([]CoatWork, 51) },
		"coat":       func(p *Plan) { p.Coats[1].ThicknessUM = -1 },
		"no start":   func(p *Plan) { p.Start = time.Time{} },
		"burn":       func(p *Plan) { p.Burn = -1 },
		"endless":    func(p *Plan) { p.Burn = time.Duration(math.MaxInt64) },
		"drying":     func(p *Plan) { p.Habits.Drying = "oven" },
		"between":    func(p *Plan) { p.Habits.Between = -time.Minute },
		"cure":       func(p *Plan) { p.Habits.Cure = 29 * 24 * time.Hour },
	} {
		t.Run(name, func(t *testing.T) {
			plan := canvasPlan()
			spoil(&plan)
			got, err := plan.Timetable()
			require.Zero(t, got)
			requireSentence(t, err)
		})
	}
}

// Steps follow one another without gap, coats from the lowest up.
func TestTimetableSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plan := canvasPlan()
		plan.Coats = make([]CoatWork, rapid.IntRange(1, 8).Draw(t, "coats"))
		plan.Panel.Kind = rapid.SampledFrom([]PanelKind{Canvas, Tile, Board}).Draw(t, "kind")
		plan.Clear = rapid.Bool().Draw(t, "clear")
		plan.Burn = time.Duration(rapid.IntRange(0, 3000).Draw(t, "burn")) * time.Minute
		plan.Habits.Between = time.Duration(rapid.IntRange(0, 90).Draw(t, "between")) * time.Minute
		got, err := plan.Timetable()
		require.NoError(t, err)
		at, layer, passes := plan.Start, len(plan.Coats), 0
		for _, s := range got.Steps {
			require.Equal(t, at, s.Start)
			at = s.End()
			if s.Layer > 0 {
				require.LessOrEqual(t, s.Layer, layer)
				layer = s.Layer
			}
			if s.What == SprayAlong || s.What == SprayAcross {
				passes++
			}
		}
		require.Equal(t, 2*len(plan.Coats), passes, "two passes a coat")
		require.Equal(t, 1, layer)
		require.False(t, got.BurnEnds.Before(got.CanBurn))
		require.False(t, got.CanHang.Before(got.BurnEnds))
	})
}
