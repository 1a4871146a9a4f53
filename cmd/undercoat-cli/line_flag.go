package main

import (
	"fmt"
	"strings"

	"undercoat/assets"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

// defaultCapHeight is the size of lettering that nobody gave one.
const defaultCapHeight layout.MM = 10

// parseLine reads a line of lettering: the text, and after the last semicolon what
// differs from the default.
func parseLine(text string, unit layout.Unit) (lettering.Line, error) {
	l := lettering.Line{Text: strings.TrimSpace(text), Font: assets.DefaultFont, CapHeight: defaultCapHeight, Burn: true}
	at := strings.LastIndex(text, ";")
	if at < 0 {
		return l, nil
	}
	l.Text = strings.TrimSpace(text[:at])
	for _, word := range strings.Fields(text[at+1:]) {
		name, value, _ := strings.Cut(word, "=")
		if err := setLine(&l, name, value, unit); err != nil {
			return l, fmt.Errorf("text %q, %s: %w", l.Text, word, err)
		}
	}
	return l, nil
}

func setLine(l *lettering.Line, name, value string, unit layout.Unit) error {
	var err error
	switch name {
	case "font":
		l.Font = value
	case "size":
		l.CapHeight, err = layout.ParseLength(value, unit)
	case "at":
		l.At, err = parsePoint(value, unit)
	case "align":
		l.Align = lettering.Align(value)
	case "spacing":
		l.Spacing, err = signedLength(value, unit)
	case "arc":
		l.ArcRadius, err = signedLength(value, unit)
	case "turn":
		var v []float64
		v, err = numberList("turn", value, 1, "-12")
		l.RotationDegrees = v[0]
	case "margin":
		l.Margin, err = layout.ParseLength(value, unit)
	case "left":
		l.Burn = false
	case "burn":
		l.Burn = true
	default:
		err = fmt.Errorf("write font=, size=, at=, align=, spacing=, arc=, turn=, margin=, left or burn")
	}
	return err
}

// parsePoint reads "x,y" from the panel's centre; a unit after y holds for both.
func parsePoint(text string, unit layout.Unit) (layout.Point, error) {
	xText, yText, ok := strings.Cut(text, ",")
	if !ok {
		return layout.Point{}, fmt.Errorf("%q is not a place: write x,y from the panel's centre, for instance 0,-120mm", text)
	}
	if strings.Trim(xText, "+-.0123456789") == "" {
		xText += strings.TrimLeft(yText, "+-.0123456789")
	}
	x, err := signedLength(xText, unit)
	if err != nil {
		return layout.Point{}, err
	}
	y, err := signedLength(yText, unit)
	return layout.Point{X: x, Y: y}, err
}

// signedLength reads a length that may be below 0.
func signedLength(text string, unit layout.Unit) (layout.MM, error) {
	trimmed := strings.TrimSpace(text)
	l, err := layout.ParseLength(strings.TrimLeft(trimmed, "+-"), unit)
	if strings.HasPrefix(trimmed, "-") {
		l = -l
	}
	return l, err
}
