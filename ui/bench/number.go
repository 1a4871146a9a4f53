package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"undercoat/layout"
)

// plainNumber writes a number as people do, to four decimals.
func plainNumber(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// parseNumber reads a number with a point or a comma in it.
func parseNumber(text string) (float64, error) {
	plain := strings.Replace(strings.Replace(strings.TrimSpace(text), ",", ".", 1), "\u2212", "-", 1)
	v, err := strconv.ParseFloat(plain, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is not a number: write, for instance, 25", text)
	}
	return v, nil
}

// minus writes a number's sign as the rulers do.
func minus(number string) string { return strings.Replace(number, "-", "\u2212", 1) }

// percent is a share of -1 to 1 with its sign.
func percent(v float64) string {
	n := int(math.Round(v * 100))
	if n == 0 {
		return "0 %"
	}
	return minus(fmt.Sprintf("%+d %%", n))
}

// unsignedPercent is a share of 0 to 1.
func unsignedPercent(v float64) string { return fmt.Sprintf("%.0f %%", v*100) }

// sharePercent is a share of 0 to 1 of which little matters too.
func sharePercent(v float64) string {
	if v > 0 && v < 0.0005 {
		return "< 0.1 %"
	}
	return fmt.Sprintf("%.1f %%", v*100)
}

// timesText is a factor.
func timesText(v float64) string { return fmt.Sprintf("%.2f x", v) }

// parseSigned reads a length with a sign before it or none.
func parseSigned(text string, bare layout.Unit) (layout.MM, error) {
	for _, sign := range []string{"-", "\u2212"} {
		if rest, below := strings.CutPrefix(strings.TrimSpace(text), sign); below {
			l, err := layout.ParseLength(rest, bare)
			return -l, err
		}
	}
	return layout.ParseLength(text, bare)
}
