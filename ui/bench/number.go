package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// plainNumber writes a number as people do, to four decimals.
func plainNumber(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// parseNumber reads a number with a point or a comma in it.
func parseNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
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
