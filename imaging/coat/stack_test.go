package coat_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

func hex(text string) colour.Stored {
	c, err := colour.ParseHex(text)
	if err != nil {
		panic(err)
	}
	return c
}

// threeCoats is made up: graphite over teal over cream on a white ground.
func threeCoats() coat.Stack {
	return coat.Stack{
		Name: "three coats",
		Coats: []coat.Coat{
			{Name: "graphite", Colour: hex("#2b2d30"), ThicknessUM: 25},
			{Name: "teal", Colour: hex("#1f7a7a"), ThicknessUM: 25},
			{Name: "cream", Colour: hex("#efe3c2"), ThicknessUM: 30},
		},
		Ground: coat.Ground{Name: "white ground", Colour: hex("#f2efe6")},
		Curve: coat.Curve{
			Points:         []coat.Point{{DoseJCM2: 20, DepthUM: 0}, {DoseJCM2: 45, DepthUM: 25}, {DoseJCM2: 85, DepthUM: 50}, {DoseJCM2: 140, DepthUM: 80}},
			Spread:         []float64{0.15, 0.14, 0.12},
			ScorchDoseJCM2: 260,
			ScorchColour:   hex("#3a2a1c"),
			PassExponent:   1,
		},
	}
}

func compile(t testing.TB, s coat.Stack, o coat.Options) *coat.Model {
	t.Helper()
	m, err := s.Compile(o)
	require.NoError(t, err)
	return m
}

// drawStack draws any stack that Validate lets pass, of likely sizes.
func drawStack(t *rapid.T) coat.Stack {
	n := rapid.IntRange(1, 6).Draw(t, "coats")
	byte8 := rapid.Byte()
	drawColour := func(label string) colour.Stored {
		return colour.Stored{R: byte8.Draw(t, label), G: byte8.Draw(t, label), B: byte8.Draw(t, label)}
	}
	s := coat.Stack{Name: "drawn", Ground: coat.Ground{Colour: drawColour("ground")}}
	for range n {
		s.Coats = append(s.Coats, coat.Coat{
			Colour:      drawColour("coat"),
			ThicknessUM: rapid.Float64Range(1, 60).Draw(t, "thickness"),
		})
		s.Curve.Spread = append(s.Curve.Spread, rapid.Float64Range(0, 0.6).Draw(t, "spread"))
	}
	dose, depth := rapid.Float64Range(1, 60).Draw(t, "onset"), 0.0
	s.Curve.Points = []coat.Point{{DoseJCM2: dose}}
	for range rapid.IntRange(1, 6).Draw(t, "points") {
		dose *= rapid.Float64Range(1.02, 3).Draw(t, "dose step")
		depth += rapid.Float64Range(0, 60).Draw(t, "depth step")
		s.Curve.Points = append(s.Curve.Points, coat.Point{DoseJCM2: dose, DepthUM: depth})
	}
	if depth == 0 {
		s.Curve.Points[len(s.Curve.Points)-1].DepthUM = 40
	}
	if rapid.Bool().Draw(t, "scorches") {
		s.Curve.ScorchDoseJCM2 = dose * rapid.Float64Range(0.5, 3).Draw(t, "scorch")
		s.Curve.ScorchColour = drawColour("scorch")
	}
	return s
}

func TestValidateNamesValueAndRange(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(*coat.Stack)
		want  []string
	}{
		"no coats":           {func(s *coat.Stack) { s.Coats = nil }, []string{"coats holds 0", "1 to 16"}},
		"too many coats":     {func(s *coat.Stack) { s.Coats = make([]coat.Coat, 17) }, []string{"coats holds 17", "1 to 16"}},
		"negative thickness": {func(s *coat.Stack) { s.Coats[1].ThicknessUM = -3 }, []string{"coats[1].thickness_um is -3", "above 0", "5000"}},
		"no thickness":       {func(s *coat.Stack) { s.Coats[0].ThicknessUM = 0 }, []string{"coats[0].thickness_um is 0", "above 0"}},
		"thickness in m":     {func(s *coat.Stack) { s.Coats[2].ThicknessUM = 25000 }, []string{"coats[2].thickness_um is 25000", "5000"}},
		"thickness NaN":      {func(s *coat.Stack) { s.Coats[0].ThicknessUM = math.NaN() }, []string{"coats[0].thickness_um", "finite"}},
		"thickness Inf":      {func(s *coat.Stack) { s.Coats[0].ThicknessUM = math.Inf(1) }, []string{"coats[0].thickness_um", "finite"}},
		"no points":          {func(s *coat.Stack) { s.Curve.Points = nil }, []string{"curve.points holds 0", "2 to"}},
		"one point":          {func(s *coat.Stack) { s.Curve.Points = s.Curve.Points[:1] }, []string{"curve.points holds 1", "2 to"}},
		"no onset":           {func(s *coat.Stack) { s.Curve.Points[0].DepthUM = 2 }, []string{"curve.points[0].depth_um is 2", "must be 0"}},
		"all flat":           {func(s *coat.Stack) { s.Curve.Points = []coat.Point{{DoseJCM2: 1}, {DoseJCM2: 2}} }, []string{"never leaves depth 0"}},
		"unsorted doses":     {func(s *coat.Stack) { s.Curve.Points[2].DoseJCM2 = 40 }, []string{"curve.points[2].dose_j_per_cm2 is 40", "above the 45", "sort"}},
		"equal doses":        {func(s *coat.Stack) { s.Curve.Points[2].DoseJCM2 = 45 }, []string{"curve.points[2].dose_j_per_cm2 is 45", "above the 45"}},
		"falling depth":      {func(s *coat.Stack) { s.Curve.Points[3].DepthUM = 49 }, []string{"curve.points[3].depth_um is 49", "at least the 50"}},
		"dose 0":             {func(s *coat.Stack) { s.Curve.Points[0].DoseJCM2 = 0 }, []string{"curve.points[0].dose_j_per_cm2 is 0", "above 0"}},
		"dose NaN":           {func(s *coat.Stack) { s.Curve.Points[1].DoseJCM2 = math.NaN() }, []string{"curve.points[1].dose_j_per_cm2", "finite"}},
		"depth NaN":          {func(s *coat.Stack) { s.Curve.Points[1].DepthUM = math.NaN() }, []string{"curve.points[1].depth_um", "finite"}},
		"spread missing":     {func(s *coat.Stack) { s.Curve.Spread = s.Curve.Spread[:2] }, []string{"curve.spread holds 2 values for 3 coats"}},
		"spread negative":    {func(s *coat.Stack) { s.Curve.Spread[1] = -0.1 }, []string{"curve.spread[1] is -0.1", "between 0 and 3"}},
		"spread NaN":         {func(s *coat.Stack) { s.Curve.Spread[2] = math.NaN() }, []string{"curve.spread[2]", "finite"}},
		"scorch negative":    {func(s *coat.Stack) { s.Curve.ScorchDoseJCM2 = -1 }, []string{"curve.scorch_dose_j_per_cm2 is -1", "between 0"}},
		"exponent too large": {func(s *coat.Stack) { s.Curve.PassExponent = 4 }, []string{"curve.pass_exponent is 4", "at most 3"}},
		"too few errors":     {func(s *coat.Stack) { s.Curve.BreakThroughSD = []float64{.1} }, []string{"curve.break_through_ln_sd holds 1 values for 3 coats"}},
		"error negative":     {func(s *coat.Stack) { s.Curve.BreakThroughSD = []float64{.1, -.1, .1} }, []string{"curve.break_through_ln_sd[1] is -0.1"}},
	} {
		t.Run(name, func(t *testing.T) {
			s := threeCoats()
			c.spoil(&s)
			for _, want := range c.want {
				require.ErrorContains(t, s.Validate(), want)
			}
			_, err := s.Compile(coat.Options{})
			require.Error(t, err)
			_, err = s.JSON()
			require.Error(t, err)
		})
	}
	require.NoError(t, threeCoats().Validate())
}

func TestEqualLooksAtWhatAProofDependsOn(t *testing.T) {
	for name, change := range map[string]func(*coat.Stack){
		"colour":    func(s *coat.Stack) { s.Coats[0].Colour.R++ },
		"thickness": func(s *coat.Stack) { s.Coats[2].ThicknessUM++ },
		"coats":     func(s *coat.Stack) { s.Coats = s.Coats[:2] },
		"ground":    func(s *coat.Stack) { s.Ground.Colour.G-- },
		"points":    func(s *coat.Stack) { s.Curve.Points[1].DoseJCM2++ },
		"spread":    func(s *coat.Stack) { s.Curve.Spread[1] = 0.3 },
		"scorch":    func(s *coat.Stack) { s.Curve.ScorchDoseJCM2 = 0 },
		"char":      func(s *coat.Stack) { s.Curve.ScorchColour.B++ },
		"passes":    func(s *coat.Stack) { s.Curve.PassExponent = 0.9 },
		"mark":      func(s *coat.Stack) { s.Curve.Calibrated = true },
		"errors":    func(s *coat.Stack) { s.Curve.BreakThroughSD = []float64{.1, .1, .1} },
	} {
		s := threeCoats()
		change(&s)
		require.False(t, threeCoats().Equal(s), name)
	}
	renamed := threeCoats()
	renamed.Name, renamed.Coats[0].Name, renamed.Curve.PassExponent = "other", "black", 0
	require.True(t, threeCoats().Equal(renamed))
}

func TestOptionsAreChecked(t *testing.T) {
	for _, n := range []float64{0.5, -1, 11, math.NaN(), math.Inf(1)} {
		_, err := threeCoats().Compile(coat.Options{YuleNielsen: n})
		require.ErrorContains(t, err, "yule-nielsen n", "%g", n)
	}
	_, err := threeCoats().Compile(coat.Options{Finish: "wax"})
	require.ErrorContains(t, err, `finish "wax" is not known: choose matt, satin or gloss`)
}

func TestThicknessMovesTheBreakThroughAlongTheCurve(t *testing.T) {
	s := threeCoats()
	before := compile(t, s, coat.Options{})
	twice, err := s.WithSecondPass(0)
	require.NoError(t, err)
	after := compile(t, twice, coat.Options{})
	// The second coat's lower face now lies at 75 um, where the curve says.
	require.Equal(t, before.BreakThrough(1), after.BreakThrough(0))
	require.InDelta(t, 75, before.DepthUM(after.BreakThrough(1)), 1e-9)
	require.Equal(t, 25.0, s.Coats[0].ThicknessUM, "the stack itself stays as it was")

	back, err := twice.WithThickness(0, 25)
	require.NoError(t, err)
	require.Equal(t, s, back)

	_, err = s.WithThickness(3, 10)
	require.ErrorContains(t, err, "coat 3")
	_, err = s.WithSecondPass(-1)
	require.ErrorContains(t, err, "coat -1")
	_, err = s.WithThickness(1, -4)
	require.ErrorContains(t, err, "coats[1].thickness_um is -4")
}

func TestThickerPaintNeedsMoreLight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStack(t)
		thicker, err := s.Thicker(rapid.Float64Range(1, 1.5).Draw(t, "factor"))
		require.NoError(t, err)
		a, err := s.Compile(coat.Options{})
		require.NoError(t, err)
		b, err := thicker.Compile(coat.Options{})
		require.NoError(t, err)
		for i := range s.Coats {
			require.GreaterOrEqual(t, b.BreakThrough(i), a.BreakThrough(i)*(1-1e-12))
		}
	})
}
