package lettering_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

func goodLine() lettering.Line {
	return lettering.Line{Text: "DUSK", Font: "sans-bold", CapHeight: 10, At: layout.Point{X: 5, Y: -80}, Align: lettering.Left, Burn: true}
}

func TestValidate(t *testing.T) {
	nan, inf := layout.MM(math.NaN()), layout.MM(math.Inf(1))
	cases := []struct {
		name   string
		change func(*lettering.Line)
		want   string // empty: in order
	}{
		{"as it is", func(*lettering.Line) {}, ""},
		{"no alignment", func(l *lettering.Line) { l.Align = "" }, ""},
		{"smallest", func(l *lettering.Line) { l.CapHeight = 0.5 }, ""},
		{"largest", func(l *lettering.Line) { l.CapHeight = 500 }, ""},
		{"tightest arc", func(l *lettering.Line) { l.ArcRadius = -10 }, ""},
		{"tightest spacing", func(l *lettering.Line) { l.Spacing = -5 }, ""},
		{"empty", func(l *lettering.Line) { l.Text = "" }, "text is empty: write something or remove the line"},
		{"blank", func(l *lettering.Line) { l.Text = " \u00a0 " }, "text is empty"},
		{"not UTF-8", func(l *lettering.Line) { l.Text = "a\xff" }, "not valid UTF-8"},
		{"too long", func(l *lettering.Line) { l.Text = strings.Repeat("a", 501) }, "501 letters: split it into lines of at most 500"},
		{"two lines", func(l *lettering.Line) { l.Text = "a\nb" }, "a line break: write each line by itself"},
		{"a tab", func(l *lettering.Line) { l.Text = "a\tb" }, "control character U+0009: leave it out"},
		{"no font", func(l *lettering.Line) { l.Font = " " }, "font is empty: choose a font"},
		{"unknown alignment", func(l *lettering.Line) { l.Align = "justified" }, `align is "justified": choose left, centre or right`},
		{"too small", func(l *lettering.Line) { l.CapHeight = 0.4 }, "cap height 0.4 mm is out of range: choose 0.5 mm to 500 mm"},
		{"too large", func(l *lettering.Line) { l.CapHeight = 501 }, "cap height 501 mm is out of range"},
		{"no size", func(l *lettering.Line) { l.CapHeight = nan }, "cap height NaN"},
		{"nowhere", func(l *lettering.Line) { l.At.Y = inf }, "off every panel: choose a place on the panel"},
		{"too close", func(l *lettering.Line) { l.Spacing = -5.1 }, "letter spacing -5.1 mm is out of range: choose -5 mm to 500 mm"},
		{"endless spacing", func(l *lettering.Line) { l.Spacing = inf }, "letter spacing +Inf"},
		{"too round", func(l *lettering.Line) { l.ArcRadius = 9 }, "arc radius 9 mm is out of range: choose 0 for a straight line, or 10 mm (the cap height) to 10000 mm"},
		{"no radius", func(l *lettering.Line) { l.ArcRadius = nan }, "arc radius NaN"},
		{"over-turned", func(l *lettering.Line) { l.RotationDegrees = 361 }, "rotation 361 degrees is out of range: choose -360 to 360"},
		{"no rotation", func(l *lettering.Line) { l.RotationDegrees = math.NaN() }, "rotation NaN"},
		{"wide margin", func(l *lettering.Line) { l.Margin = 51 }, "margin 51 mm is out of range: choose 0 to 50 mm"},
		{"margin below nothing", func(l *lettering.Line) { l.Margin = -0.1 }, "margin -0.1 mm"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			line := goodLine()
			c.change(&line)
			err := line.Validate()
			if c.want == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, c.want)
		})
	}
}

func TestLineInAFile(t *testing.T) {
	line := goodLine()
	line.Spacing, line.ArcRadius, line.RotationDegrees, line.Margin = 1.5, -40, 12.5, 0.4
	data, err := json.Marshal(line)
	require.NoError(t, err)
	require.JSONEq(t, `{"text":"DUSK","font":"sans-bold","cap_height_mm":10,"at_mm":[5,-80],"align":"left",
		"letter_spacing_mm":1.5,"arc_radius_mm":-40,"rotation_degrees":12.5,"burn":true,"margin_mm":0.4}`, string(data))
	var again lettering.Line
	require.NoError(t, json.Unmarshal(data, &again))
	require.Equal(t, line, again)
}
