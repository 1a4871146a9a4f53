package proof_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

func lightness(l colour.Linear) float64 { return colour.LStar(l.Y()) }

// A wedge of 32 equal steps, screened with the tones, comes out in equal steps
// of L* in the exact proof.
func TestEvenTonesGiveEqualSteps(t *testing.T) {
	const steps = 32
	for _, stack := range []coat.Stack{darkOnLight(), threeCoats(), lightOnDark(), upAndDown()} {
		t.Run(stack.Name, func(t *testing.T) {
			r := recipe(stack)
			tones := table(t, r).Even()
			var lstar []float64
			for i := range steps {
				lstar = append(lstar, lightness(exactLook(t, r, field(t, r, tones.Tint(float64(i)/(steps-1))))))
			}
			mean := (lstar[steps-1] - lstar[0]) / (steps - 1)
			worst := 0.0
			for i := 1; i < steps; i++ {
				worst = math.Max(worst, math.Abs(lstar[i]-lstar[i-1]-mean)/mean)
			}
			t.Logf("mean step %.3f L*, largest deviation %.1f %%", mean, 100*worst)
			require.Less(t, worst, 0.10)
			require.InDelta(t, tones.Dark, lstar[0], 0.3)
			require.InDelta(t, tones.Light, lstar[steps-1], 0.3)
		})
	}
}

func TestWhichWayRoundTheTonesGo(t *testing.T) {
	for _, c := range []struct {
		stack  coat.Stack
		bright bool
		note   string
	}{
		{darkOnLight(), true, ""},
		{threeCoats(), true, ""},
		{lightOnDark(), false, ""},
		{upAndDown(), true, "does not rise or fall all the way"},
	} {
		t.Run(c.stack.Name, func(t *testing.T) {
			r := recipe(c.stack)
			if c.note != "" {
				r.Setting.PowerPercent = 60
			}
			tones := table(t, r).Even()
			require.Equal(t, c.bright, tones.BrightBurns())
			require.Less(t, tones.Dark, tones.Light)
			if c.note == "" {
				require.Empty(t, tones.Note)
			} else {
				require.Contains(t, tones.Note, c.note)
			}
		})
	}
}

func TestTonesNeverCrossATurningPoint(t *testing.T) {
	r := recipe(upAndDown())
	r.Setting.PowerPercent = 60
	table := table(t, r)
	tones := table.Even()
	before := -1.0
	for i := range 101 {
		tint := tones.Tint(float64(i) / 100)
		require.GreaterOrEqual(t, tint, min(tones.DarkTint, tones.LightTint))
		require.LessOrEqual(t, tint, max(tones.DarkTint, tones.LightTint))
		l := lightness(table.Look(tint))
		require.Greater(t, l, before-0.3)
		before = l
	}
	require.Less(t, int(tones.LightTint), math.MaxUint16, "the tints past the white coat stay unused")
}

// A ground that chars darkens again: what lies past that is never used.
func TestTonesStopWhereTheGroundChars(t *testing.T) {
	r := recipe(darkOnLight())
	r.Setting.Speed /= 10
	table := table(t, r)
	tones := table.Even()
	lightest := lightness(table.Look(tones.LightTint))
	require.Less(t, lightness(table.Look(math.MaxUint16)), lightest-20)
	require.Less(t, int(tones.LightTint), math.MaxUint16)
	require.Contains(t, tones.Note, "does not rise or fall all the way")
	for _, tint := range tones.Table() {
		require.LessOrEqual(t, tint, tones.LightTint)
	}
}

func TestTonesUndoTheTable(t *testing.T) {
	for _, stack := range []coat.Stack{darkOnLight(), threeCoats(), lightOnDark()} {
		table := table(t, recipe(stack))
		tones := table.Even()
		for i := range 201 {
			share := float64(i) / 200
			want := tones.Dark + share*(tones.Light-tones.Dark)
			require.InDelta(t, want, lightness(table.Look(tones.Tint(share))), 0.35, "%s, %g", stack.Name, share)
		}
		require.Equal(t, tones.DarkTint, tones.Tint(0))
		require.InDelta(t, tones.Light, lightness(table.Look(tones.Tint(1))), 0.1)
		require.Equal(t, tones.Tint(0), tones.Tint(-3))
		require.Equal(t, tones.Tint(1), tones.Tint(7))
		require.Equal(t, tones.Tint(0), tones.Tint(math.NaN()))
	}
}

func TestToneTablesAreTheTones(t *testing.T) {
	tones := table(t, recipe(threeCoats())).Even()
	byLightness, byLight := tones.Table(), tones.LinearTable()
	for v := 0; v <= math.MaxUint16; v += 55 {
		share := float64(v) / math.MaxUint16
		require.Equal(t, tones.Tint(share), byLightness[v])
		require.InDelta(t, float64(tones.Tint(colour.LStar(share)/100)), float64(byLight[v]), 4)
	}
	require.Equal(t, tones.Tint(1), byLight[math.MaxUint16])
}

func TestTurnedRound(t *testing.T) {
	tones := table(t, recipe(threeCoats())).Even()
	turned := tones.TurnedRound()
	require.NotEqual(t, tones.BrightBurns(), turned.BrightBurns())
	for i := range 101 {
		share := float64(i) / 100
		require.InDelta(t, float64(tones.Tint(1-share)), float64(turned.Tint(share)), 300, "%g", share)
	}
	again := turned.TurnedRound()
	require.Equal(t, tones.Tint(0.3), again.Tint(0.3))
}

func TestTonesOfABurnThatDoesNothing(t *testing.T) {
	r := recipe(darkOnLight())
	r.Setting.PowerPercent = 1
	tones := table(t, r).Even()
	require.Contains(t, tones.Note, "hardly changes the lightness")
	tones.LinearTable()
}
