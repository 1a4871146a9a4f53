package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// pictureFlags are what is done to the picture, and the lettering over it.
type pictureFlags struct {
	quarters, minDot, minGap, matrix int
	mirror, oneWay                   bool
	straighten, corners              string
	mix, curve, local, noise         string
	sharpen, fade                    string
	black, white, mid, contrast      float64
	tones, burns, match              string
	screen, spot                     string
	lines, angle                     float64
	texts, fonts                     []string
}

func (f *pictureFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.IntVar(&f.quarters, "quarter-turns", 0, "turn the picture clockwise by so many quarters, 0 to 3")
	flags.BoolVar(&f.mirror, "mirror", false, "mirror the picture left to right")
	flags.StringVar(&f.straighten, "straighten", "0", "straighten the turned picture: degrees clockwise, -45 to 45")
	flags.StringVar(&f.corners, "corners", "", `straighten it by the four corners of a drawing in it, in pixels, upper left first and clockwise: "x,y x,y x,y x,y"`)
	flags.StringVar(&f.mix, "grey-mix", "", "shares of red, green and blue in grey, as 0.6,0.3,0.1 (default: as the eye sees)")
	flags.Float64Var(&f.black, "black", 0, "lightness, 0 to 99, that becomes black")
	flags.Float64Var(&f.white, "white", 100, "lightness, 1 to 100, that becomes white")
	flags.Float64Var(&f.mid, "mid-tone", 0, "middle tones darker or lighter, -1 to 1")
	flags.Float64Var(&f.contrast, "contrast", 0, "flatter or steeper, -1 to 1")
	flags.StringVar(&f.curve, "curve", "", `lightness to lightness through points, as "0,0 40,55 100,100"`)
	flags.StringVar(&f.local, "local-contrast", "", "limit and tile, as 2,20mm: how many times steeper within each tile")
	flags.StringVar(&f.noise, "noise", "", "strength and radius, as 3,0.5mm: smooth grain of so much lightness")
	flags.StringVar(&f.sharpen, "sharpen", "", `radius, amount and threshold, as 0.1mm,0.8,1; or "auto" for what this pitch and beam take away`)
	flags.StringVar(&f.fade, "fade", "", `let the burn die away at the edge: "oval" or "rectangle", then inset=, corner=, feather= lengths and vignette=0..1, as "oval feather=15mm"`)
	flags.StringVar(&f.tones, "tones", string(job.TonesEven), "even: equal steps of lightness; light: the share of dots is the share of light")
	flags.StringVar(&f.burns, "burns", string(job.BurnsByStack), "which parts burn: by-stack, bright or dark")
	flags.StringVar(&f.match, "match", string(job.MatchLightness), "what of the picture is matched: "+list(job.Matches()))
	flags.StringVar(&f.screen, "screen", string(screen.FloydSteinberg), "how tints become dots: "+list(screen.Kinds()))
	flags.BoolVar(&f.oneWay, "one-way", false, "screen every row from left to right, not to and fro")
	flags.IntVar(&f.minDot, "min-dot", 0, "least number of burned dots in a row, for paint that a single dot does not mark")
	flags.IntVar(&f.minGap, "min-gap", 0, "least number of dots left between burned ones in a row")
	flags.IntVar(&f.matrix, "matrix", 0, "side of the Bayer matrix: 2, 4, 8 or 16 (default 8)")
	flags.Float64Var(&f.lines, "lines-per-cm", 0, "cells or lines to a centimetre of a clustered screen (default: cells of 6 dots)")
	flags.Float64Var(&f.angle, "angle", 0, "angle of a clustered screen in degrees, 0 to 180")
	flags.StringVar(&f.spot, "spot", "", "shape of a clustered screen's dots: round or line")
	flags.StringArrayVar(&f.texts, "text", nil, "a line of lettering: the text, then after a semicolon what differs from the default: "+
		`font= size=10mm at=x,y align=left|centre|right spacing= arc= turn=degrees margin= left (in the top coat, not burned); as "Harbour 1924; size=14mm at=0,-120mm"; may be given more than once`)
	flags.StringArrayVar(&f.fonts, "font", nil, "a TTF or OTF file of your own to be kept in the job; lines call it by its file's name; may be given more than once")
}

// list is names with commas between.
func list[T ~string](names []T) string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = string(n)
	}
	return strings.Join(out, ", ")
}

// document is d with the tone, screen and lettering asked for.
func (f *pictureFlags) document(d job.Document, unit layout.Unit) (job.Document, error) {
	p := &d.Picture
	p.Tones, p.Burns = job.Tones(f.tones), job.Burns(f.burns)
	d.Match = job.Match(f.match)
	d.Screen = job.Screen{
		Kind: screen.Kind(f.screen), OneWay: f.oneWay, MinDot: f.minDot, MinGap: f.minGap,
		Matrix: f.matrix, LinesPerCM: f.lines, AngleDegrees: f.angle, Spot: screen.Spot(f.spot),
	}
	if f.quarters < 0 || f.quarters > 3 {
		return d, fmt.Errorf("quarter-turns is %d: choose 0 to 3", f.quarters)
	}
	var err error
	if p.Mix, err = f.greyMix(); err != nil {
		return d, err
	}
	if p.Tone, err = f.tone(d, unit); err != nil {
		return d, err
	}
	if p.Fade, err = parseFade(f.fade, unit); err != nil {
		return d, err
	}
	for _, text := range f.texts {
		line, err := parseLine(text, unit)
		if err != nil {
			return d, err
		}
		d.Lettering = append(d.Lettering, line)
	}
	return d, nil
}

// frame is the picture turned and straightened as asked.
func (f *pictureFlags) frame(p job.Picture) (job.Picture, error) {
	p.QuarterTurns, p.Mirror = f.quarters, f.mirror
	angle, err := numberList("straighten", f.straighten, 1, "3.5")
	if err != nil {
		return p, err
	}
	p.StraightenDegrees = angle[0]
	if f.corners != "" {
		corners, err := parseCorners(f.corners)
		if err != nil {
			return p, err
		}
		p.Corners = &corners
	}
	return p, nil
}

// parseCorners reads "x,y x,y x,y x,y", in pixels.
func parseCorners(text string) ([4]layout.PicturePoint, error) {
	var out [4]layout.PicturePoint
	parts := strings.Fields(text)
	if len(parts) != len(out) {
		return out, fmt.Errorf("corners %q are %d points and four are needed: write \"x,y x,y x,y x,y\", upper left first and clockwise", text, len(parts))
	}
	for i, p := range parts {
		v, err := numberList("corners", p, 2, "120,85")
		if err != nil {
			return out, err
		}
		out[i] = layout.PicturePoint{X: v[0], Y: v[1]}
	}
	return out, nil
}

func (f *pictureFlags) greyMix() (picture.Mix, error) {
	if f.mix == "" {
		return picture.Mix{}, nil
	}
	v, err := numberList("grey-mix", f.mix, 3, "0.6,0.3,0.1")
	if err != nil {
		return picture.Mix{}, err
	}
	return picture.Mix{R: v[0], G: v[1], B: v[2]}, nil
}

func (f *pictureFlags) tone(d job.Document, unit layout.Unit) (picture.Tone, error) {
	t := picture.Tone{Black: f.black, White: f.white, Mid: f.mid, Contrast: f.contrast}
	if t.White == 100 {
		t.White = 0 // the same, and the tone's zero value
	}
	var err error
	if t.Curve, err = parseCurve(f.curve); err != nil {
		return t, err
	}
	if f.local != "" {
		if t.Local.Limit, t.Local.Tile, err = numberAndLength("local-contrast", f.local, "2,20mm", unit); err != nil {
			return t, err
		}
	}
	if f.noise != "" {
		if t.Noise.Strength, t.Noise.Radius, err = numberAndLength("noise", f.noise, "3,0.5mm", unit); err != nil {
			return t, err
		}
	}
	if f.sharpen != "" {
		if t.Sharpen, err = parseSharpen(f.sharpen, d, unit); err != nil {
			return t, err
		}
	}
	return t, nil
}

func parseCurve(text string) (picture.Curve, error) {
	var points []picture.CurvePoint
	for _, part := range strings.Fields(text) {
		v, err := numberList("curve", part, 2, "40,55")
		if err != nil {
			return picture.Curve{}, err
		}
		points = append(points, picture.CurvePoint{From: v[0], To: v[1]})
	}
	return picture.NewCurve(points...)
}

func parseSharpen(text string, d job.Document, unit layout.Unit) (picture.Sharpen, error) {
	if text == "auto" {
		return picture.SuggestSharpen(d.Setting.Pitch, max(d.Machine.BeamAlong, d.Machine.BeamAcross))
	}
	radius, rest, ok := strings.Cut(text, ",")
	if !ok {
		return picture.Sharpen{}, fmt.Errorf("sharpen %q: write radius,amount,threshold, for instance 0.1mm,0.8,1, or auto", text)
	}
	r, err := layout.ParseLength(radius, unit)
	if err != nil {
		return picture.Sharpen{}, fmt.Errorf("sharpen: %w", err)
	}
	v, err := numberList("sharpen", rest, 2, "0.8,1")
	return picture.Sharpen{Radius: r, Amount: v[0], Threshold: v[1]}, err
}

// parseFade reads a shape and its measures.
func parseFade(text string, unit layout.Unit) (picture.Fade, error) {
	var f picture.Fade
	for _, word := range strings.Fields(text) {
		name, value, _ := strings.Cut(word, "=")
		var err error
		switch name {
		case "rectangle":
			f.Shape = picture.FadeRectangle
		case "oval":
			f.Shape = picture.FadeOval
		case "inset":
			f.Inset, err = layout.ParseLength(value, unit)
		case "corner":
			f.Corner, err = layout.ParseLength(value, unit)
		case "feather":
			f.Feather, err = layout.ParseLength(value, unit)
		case "vignette":
			f.Vignette, err = strconv.ParseFloat(value, 64)
		default:
			err = errors.New("write oval or rectangle, inset=, corner=, feather= or vignette=")
		}
		if err != nil {
			return f, fmt.Errorf("fade %q: %w", word, err)
		}
	}
	return f, nil
}

// numberList reads n numbers with commas between.
func numberList(name, text string, n int, example string) ([]float64, error) {
	v, err := numbers(text)
	if err != nil {
		return make([]float64, n), fmt.Errorf("%s %q: %w: write, for instance, %s", name, text, err, example)
	}
	if len(v) != n {
		return make([]float64, n), fmt.Errorf("%s %q is not of %d numbers: write, for instance, %s", name, text, n, example)
	}
	return v, nil
}

// numberAndLength reads a number and, after a comma, a length.
func numberAndLength(name, text, example string, unit layout.Unit) (float64, layout.MM, error) {
	number, length, _ := strings.Cut(text, ",")
	v, err := numberList(name, number, 1, example)
	if err != nil {
		return 0, 0, err
	}
	l, err := layout.ParseLength(length, unit)
	if err != nil {
		return 0, 0, fmt.Errorf("%s %q: %w", name, text, err)
	}
	return v[0], l, nil
}
