package job_test

import (
	"flag"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// checks is how many random jobs the properties are tried on.
const checks = "1000"

func check(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	before := flag.Lookup("rapid.checks").Value.String()
	require.NoError(t, flag.Set("rapid.checks", checks))
	defer func() { require.NoError(t, flag.Set("rapid.checks", before)) }()
	rapid.Check(t, property)
}

// between draws a number that has as many decimals as it likes.
func between(low, high float64) *rapid.Generator[float64] { return rapid.Float64Range(low, high) }

func anyColour(t *rapid.T, label string) colour.Stored {
	return colour.Stored{R: rapid.Byte().Draw(t, label+" r"), G: rapid.Byte().Draw(t, label+" g"), B: rapid.Byte().Draw(t, label+" b")}
}

// anyName is a name as people give them, in any script.
func anyName(t *rapid.T, label string) string {
	return rapid.StringMatching(`[\p{L}\p{N}<>&"'\\/ .,;:!?#%-]{0,40}`).Draw(t, label)
}

func anyStack(t *rapid.T) coat.Stack {
	s := coat.Stack{
		Kind: coat.Kind, Version: coat.Version, Name: anyName(t, "stack"),
		Ground: coat.Ground{Name: anyName(t, "ground"), Colour: anyColour(t, "ground")},
	}
	for range rapid.IntRange(1, 6).Draw(t, "coats") {
		s.Coats = append(s.Coats, coat.Coat{Name: anyName(t, "coat"), Colour: anyColour(t, "coat"), ThicknessUM: between(0.5, 200).Draw(t, "thickness")})
		s.Curve.Spread = append(s.Curve.Spread, between(0, 1).Draw(t, "spread"))
	}
	dose, depth := between(1, 100).Draw(t, "onset"), 0.0
	s.Curve.Points = []coat.Point{{DoseJCM2: dose}}
	for range rapid.IntRange(1, 8).Draw(t, "points") {
		dose += between(0.5, 200).Draw(t, "dose")
		depth += between(0.5, 100).Draw(t, "depth")
		s.Curve.Points = append(s.Curve.Points, coat.Point{DoseJCM2: dose, DepthUM: depth})
	}
	s.Curve.Calibrated = rapid.Bool().Draw(t, "calibrated")
	if rapid.Bool().Draw(t, "scorches") {
		s.Curve.ScorchDoseJCM2 = between(1, 1000).Draw(t, "scorch")
		s.Curve.ScorchColour = anyColour(t, "scorch")
	}
	if rapid.Bool().Draw(t, "has exponent") {
		s.Curve.PassExponent = between(0.5, 1.5).Draw(t, "exponent")
	}
	if s.Curve.Calibrated {
		for range s.Coats {
			s.Curve.BreakThroughSD = append(s.Curve.BreakThroughSD, between(0, 0.5).Draw(t, "sd"))
		}
		s.Curve.Origin = anyOrigin(t)
	}
	return s
}

func anyOrigin(t *rapid.T) *coat.Origin {
	if rapid.Bool().Draw(t, "no origin") {
		return nil
	}
	span := func(label string) [2]float64 {
		low := between(0.1, 50).Draw(t, label)
		return [2]float64{low, low + between(0, 50).Draw(t, label)}
	}
	o := &coat.Origin{Date: "2024-05-06", Machine: anyName(t, "its machine"), Swatches: rapid.IntRange(0, 100).Draw(t, "swatches"), Panels: rapid.IntRange(0, 5).Draw(t, "panels")}
	if rapid.Bool().Draw(t, "photographed") {
		o.Photos = []string{job.Checksum(nil)}
	}
	if rapid.Bool().Draw(t, "kept") {
		o.Readings = []string{anyName(t, "its readings")}
	}
	o.Covered = coat.Covered{PowerPercent: span("powers"), SpeedMMPerMin: span("speeds"), PitchMM: [2]layout.MM{0.05, 0.1}, Passes: [2]int{1, 3}, DoseJCM2: span("doses")}
	return o
}

// anySpeed is a speed as files hold it: in mm/min, with up to four decimals. A
// speed between those may come back a last bit off.
func anySpeed(t *rapid.T, label string, topMMPerMin float64) layout.MMPerSecond {
	const fine = 10_000
	return layout.MMPerSecond(float64(rapid.IntRange(fine, int(topMMPerMin*fine)).Draw(t, label)) / fine / 60)
}

func anyMachine(t *rapid.T) burn.Machine {
	return burn.Machine{
		Name:                anyName(t, "machine"),
		OpticalPowerW:       between(0.1, 100).Draw(t, "watts"),
		PowerOffsetPercent:  between(0, 50).Draw(t, "offset"),
		BeamAlong:           layout.MM(between(0.01, 2).Draw(t, "along")),
		BeamAcross:          layout.MM(between(0.01, 2).Draw(t, "across")),
		Bed:                 layout.Size{W: layout.MM(between(10, 2000).Draw(t, "bed w")), H: layout.MM(between(10, 2000).Draw(t, "bed h"))},
		RunUp:               layout.MM(between(0, 50).Draw(t, "run-up")),
		AccelerationMMPerS2: between(1, 5000).Draw(t, "acceleration"),
		TopSpeed:            anySpeed(t, "top speed", 100_000),
		PowerPerPixel:       rapid.Bool().Draw(t, "power per pixel"),
		SkipsBlank:          rapid.Bool().Draw(t, "skips blank"),
	}
}

// anyDocument draws a document that is valid: every field of it, over its range.
func anyDocument(t *rapid.T) job.Document {
	stack, machine := anyStack(t), anyMachine(t)
	d := job.Blank(stack, machine)
	d.Name = "n" + anyName(t, "job")
	d.Unit = rapid.SampledFrom([]string{"mm", "cm", "in"}).Draw(t, "unit")
	d.Panel = layout.Panel{
		Kind:      rapid.SampledFrom([]layout.PanelKind{layout.Canvas, layout.Tile, layout.Board}).Draw(t, "kind"),
		Size:      layout.Size{W: layout.MM(between(50, 900).Draw(t, "width")), H: layout.MM(between(50, 900).Draw(t, "height"))},
		EdgeDepth: layout.MM(between(0, 60).Draw(t, "edge")),
	}
	side := func(label string) layout.MM { return layout.MM(between(0, 20).Draw(t, label)) }
	d.Border = layout.Border{Left: side("left"), Right: side("right"), Top: side("top"), Bottom: side("bottom")}
	d.Picture = job.Picture{
		Name:   anyName(t, "picture"),
		SHA256: job.Checksum(rapid.SliceOfN(rapid.Byte(), 0, 8).Draw(t, "bytes")),
		Crop: layout.Crop{X: between(0, 1e4).Draw(t, "x"), Y: between(0, 1e4).Draw(t, "y"),
			W: between(1, 1e4).Draw(t, "w"), H: between(1, 1e4).Draw(t, "h")},
		QuarterTurns: rapid.IntRange(0, 3).Draw(t, "quarters"),
		Mirror:       rapid.Bool().Draw(t, "mirror"),
		UnderClear:   anyColour(t, "paper"),
		Tone:         anyTone(t),
		Burns:        rapid.SampledFrom([]job.Burns{job.BurnsByStack, job.BurnsBright, job.BurnsDark}).Draw(t, "burns"),
		Tones:        rapid.SampledFrom([]job.Tones{job.TonesEven, job.TonesLight}).Draw(t, "tones"),
	}
	d.Finish = rapid.SampledFrom(coat.Finishes()).Draw(t, "finish")
	d.Setting = burn.Setting{
		PowerPercent: between(0.1, 100).Draw(t, "power"),
		Speed:        anySpeed(t, "speed", machine.TopSpeed.PerMinute()),
		Pitch:        layout.MM(between(0.05, 1).Draw(t, "pitch")),
		Passes:       rapid.IntRange(1, burn.MaxPasses).Draw(t, "passes"),
	}
	matches := []job.Match{job.MatchLightness, job.MatchSteps, job.MatchNestedSteps}
	if machine.PowerPerPixel {
		matches = append(matches, job.MatchPower)
	}
	d.Match = rapid.SampledFrom(matches).Draw(t, "match")
	d.Screen = anyScreen(t)
	if rapid.Bool().Draw(t, "lettered") {
		d.Lettering = []lettering.Line{anyLine(t), anyLine(t)}
	}
	if rapid.Bool().Draw(t, "framed") {
		d.Picture = anyFrame(t, d.Picture)
	}
	return d
}

// anyFrame is a picture that is straightened, mixed and faded.
func anyFrame(t *rapid.T, p job.Picture) job.Picture {
	if rapid.Bool().Draw(t, "by corners") {
		p.Corners = &[4]layout.PicturePoint{{X: between(0, 9).Draw(t, "corner"), Y: 1}, {X: 200, Y: 3}, {X: 190, Y: 150}, {X: 5, Y: between(100, 160).Draw(t, "corner")}}
	} else {
		p.StraightenDegrees = between(-45, 45).Draw(t, "degrees")
	}
	r, g := between(0, 0.5).Draw(t, "red"), between(0, 0.5).Draw(t, "green")
	p.Mix = picture.Mix{R: r, G: g, B: 1 - r - g}
	length := func(label string) layout.MM { return layout.MM(between(0, 1000).Draw(t, label)) }
	p.Fade = picture.Fade{
		Shape: rapid.SampledFrom([]picture.FadeShape{picture.FadeRectangle, picture.FadeOval}).Draw(t, "shape"),
		Inset: length("inset"), Corner: length("corner"), Feather: length("feather"), Vignette: between(0, 1).Draw(t, "vignette"),
	}
	return p
}

func anyScreen(t *rapid.T) job.Screen {
	s := job.Screen{Kind: rapid.SampledFrom(screen.Kinds()).Draw(t, "screen"), OneWay: rapid.Bool().Draw(t, "one way")}
	if rapid.Bool().Draw(t, "screen as it comes") {
		return s
	}
	s.Plain = rapid.Bool().Draw(t, "plain")
	s.MinDot, s.MinGap = rapid.IntRange(0, 3).Draw(t, "dot"), rapid.IntRange(0, 3).Draw(t, "gap")
	s.Matrix = rapid.SampledFrom([]int{0, 2, 4, 8, 16}).Draw(t, "matrix")
	s.AngleDegrees = between(0, 180).Draw(t, "angle")
	s.Spot = rapid.SampledFrom([]screen.Spot{"", screen.Round, screen.Line}).Draw(t, "spot")
	if s.Kind != screen.Clustered { // whose lines must suit the pitch
		s.LinesPerCM = between(0, 20).Draw(t, "lines")
	}
	return s
}

func anyLine(t *rapid.T) lettering.Line {
	l := lettering.Line{
		Text: rapid.SampledFrom([]string{"Boats", "éclair 12", "Möwe"}).Draw(t, "text"), Font: "serif", CapHeight: layout.MM(between(0.5, 50).Draw(t, "cap height")),
		At: layout.Point{X: layout.MM(between(-50, 50).Draw(t, "at")), Y: 3}, Burn: rapid.Bool().Draw(t, "burned"),
	}
	if rapid.Bool().Draw(t, "set out") {
		l.Align = rapid.SampledFrom([]lettering.Align{"", lettering.Left, lettering.Centre, lettering.Right}).Draw(t, "align")
		l.Spacing = l.CapHeight * layout.MM(between(-0.4, 0.1).Draw(t, "spacing"))
		l.ArcRadius = l.CapHeight + layout.MM(between(0.1, 500).Draw(t, "arc"))
		l.RotationDegrees = between(-360, 360).Draw(t, "rotation")
		l.Margin = layout.MM(between(0, 5).Draw(t, "margin"))
	}
	return l
}

// anyJob is a job with its picture, fonts and photographs, as far as it has any.
// Nobody has looked at what is in them.
func anyJob(t *rapid.T) *job.Job {
	some := func(label string) []byte { return rapid.SliceOf(rapid.Byte()).Draw(t, label) }
	j := &job.Job{Document: anyDocument(t), Picture: some("picture")}
	j.Document.Picture.SHA256 = job.Checksum(j.Picture)
	if rapid.Bool().Draw(t, "own font") {
		j.Fonts = map[string][]byte{"mine": some("font")}
		j.Document.Fonts = []job.FontFile{{Name: "mine", SHA256: job.Checksum(j.Fonts["mine"])}}
	}
	for range rapid.IntRange(0, 2).Draw(t, "finished panels") {
		f := job.Finished{
			Photo: anyName(t, "photo"), Date: "2024-05-06", Setting: j.Document.Setting, Words: []string{"darker"}, Remark: anyName(t, "remark"),
			MeanDE00: between(0, 20).Draw(t, "difference"), DoseFactor: between(0.5, 2).Draw(t, "factor"),
			DoseLnSD: between(0, 1).Draw(t, "sd"), CloserPower: between(0, 100).Draw(t, "closer"),
		}
		var err error
		j, err = j.WithFinished(f, some("photograph"))
		require.NoError(t, err)
	}
	return j
}

func anyTone(t *rapid.T) picture.Tone {
	tone := picture.Tone{Mid: between(-1, 1).Draw(t, "mid-tone"), Contrast: between(-1, 1).Draw(t, "contrast")}
	if rapid.Bool().Draw(t, "more tone") {
		tone.Local = picture.LocalContrast{Limit: between(1, 10).Draw(t, "limit"), Tile: layout.MM(between(2, 500).Draw(t, "tile"))}
		tone.Noise = picture.Noise{Strength: between(0, 20).Draw(t, "strength"), Radius: layout.MM(between(0.05, 3).Draw(t, "grain"))}
		tone.Black = between(0, 50).Draw(t, "black")
		tone.White = between(60, 100).Draw(t, "white")
		tone.Sharpen = picture.Sharpen{Radius: layout.MM(between(0.01, 2).Draw(t, "radius")), Amount: between(0, 5).Draw(t, "amount")}
		curve, err := picture.NewCurve(picture.CurvePoint{From: 10, To: 20}, picture.CurvePoint{From: 80, To: between(20, 100).Draw(t, "to")})
		require.NoError(t, err)
		tone.Curve = curve
	}
	return tone
}

// Written, read back and written again: the job is the same, and so are the bytes.
func TestAnyJobComesBackFromItsFile(t *testing.T) {
	valid := validator(t)
	check(t, func(t *rapid.T) {
		j := anyJob(t)
		require.NoError(t, j.Document.Validate())
		data, err := j.Document.JSON()
		require.NoError(t, err)
		require.NoError(t, valid(data), "%s", data)

		var one, two, three strings.Builder
		require.NoError(t, j.Write(&one))
		require.NoError(t, j.Write(&two))
		require.Equal(t, one.String(), two.String())
		back, err := job.Parse([]byte(one.String()))
		require.NoError(t, err)
		require.Equal(t, j.Document, back.Document)
		require.Equal(t, string(j.Picture), string(back.Picture))
		require.Equal(t, j.Fonts, back.Fonts)
		require.Equal(t, j.Photos, back.Photos)
		require.NoError(t, back.Write(&three))
		require.Equal(t, one.String(), three.String())
	})
}

// A clone shares nothing: changing one leaves the other as it was.
func TestAnyCloneStandsAlone(t *testing.T) {
	check(t, func(t *rapid.T) {
		d := anyDocument(t)
		before, err := d.JSON()
		require.NoError(t, err)
		c := d.Clone()
		require.Equal(t, d, c)
		c.Stack.Coats[0].ThicknessUM++
		c.Stack.Curve.Points[0].DoseJCM2++
		c.Stack.Curve.Spread[0]++
		for i := range c.Stack.Curve.BreakThroughSD {
			c.Stack.Curve.BreakThroughSD[i]++
		}
		after, err := d.JSON()
		require.NoError(t, err)
		require.Equal(t, string(before), string(after))
	})
}
