package proof_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/proof"
)

func TestWhichWayRound(t *testing.T) {
	unreached := lightOnDark() // white on a grey that the curve reaches, over a black that it does not
	unreached.Coats = append(unreached.Coats, coat.Coat{Name: "grey", Colour: hex("#f8f8f8"), ThicknessUM: 500})
	unreached.Coats[0].Colour = hex("#808080")
	unreached.Curve.Spread = []float64{.15, .15}
	same := darkOnLight()
	same.Ground.Colour = same.Coats[0].Colour
	nameless := lightOnDark()
	nameless.Coats[0].Name, nameless.Ground.Name = "", ""
	for name, c := range map[string]struct {
		stack  coat.Stack
		bright bool
		reason string
	}{
		"dark on light":    {darkOnLight(), true, "white ground lies beneath graphite and is lighter: bright parts burn"},
		"light on dark":    {lightOnDark(), false, "black ground lies beneath white and is darker: dark parts burn"},
		"up and down":      {upAndDown(), true, "white lies beneath graphite and is lighter: bright parts burn"},
		"out of reach":     {unreached, true, "grey lies beneath white and is lighter: bright parts burn"},
		"all the same":     {same, false, "hardly changes the lightness"},
		"without names":    {nameless, false, "the ground lies beneath coat 1 and is darker"},
		"not a stack":      {coat.Stack{}, false, "coats holds 0"},
		"three light ones": {threeCoats(), true, "white ground lies beneath graphite"},
	} {
		t.Run(name, func(t *testing.T) {
			bright, reason := proof.BrightBurns(c.stack)
			require.Equal(t, c.bright, bright)
			require.Contains(t, reason, c.reason)
		})
	}
}
