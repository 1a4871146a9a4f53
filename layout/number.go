package layout

import (
	"errors"
	"strconv"
	"strings"
)

// The ways in which a typed number can fail. Each completes the sentence
// "length "..." ", and the caller adds what to write instead.
var (
	errEmpty     = errors.New("is empty")
	errNoNumber  = errors.New("does not start with a number")
	errNotNumber = errors.New("is not a plain number")
	errNegative  = errors.New("is negative")
	errFraction  = errors.New("has a fraction that cannot be read")
	errThousands = errors.New("has a comma that may mean thousands or decimals")
	errOutside   = errors.New("is outside the range")
)

// vulgarFractions are the fractions which keyboards and spreadsheets put in one
// character; the blank in front parts them from the whole number.
var vulgarFractions = strings.NewReplacer(
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⁄", "/",
)

// splitMeasure parts `11 3/4 in` into its number, never negative, and the word
// after it, in lower case and perhaps empty.
func splitMeasure(text string) (value float64, word string, err error) {
	text = strings.Join(strings.Fields(strings.ToLower(vulgarFractions.Replace(text))), " ")
	if text == "" {
		return 0, "", errEmpty
	}
	if strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−") {
		return 0, "", errNegative
	}
	end := strings.LastIndexAny(text, "0123456789") + 1
	if end == 0 {
		return 0, "", errNoNumber
	}
	value, err = parseNumber(text[:end])
	return value, strings.TrimSpace(text[end:]), err
}

// parseNumber reads `9.85`, `9,85`, `3/4`, `11 3/4` and `11-3/4`.
func parseNumber(text string) (float64, error) {
	numerator, denominator, isFraction := strings.Cut(text, "/")
	if !isFraction {
		return parseDecimal(text)
	}
	whole := 0.0
	if gap := strings.LastIndexAny(numerator, " -"); gap >= 0 {
		var err error
		if whole, err = parseDigits(numerator[:gap]); err != nil {
			return 0, errFraction
		}
		numerator = numerator[gap+1:]
	}
	upper, errUpper := parseDigits(numerator)
	lower, errLower := parseDigits(denominator)
	if errUpper != nil || errLower != nil || lower == 0 || (whole > 0 && upper >= lower) {
		return 0, errFraction
	}
	return whole + upper/lower, nil
}

// parseDecimal takes one point or one comma. `1,000` is refused: read as a
// decimal comma it would make a metre a millimetre.
func parseDecimal(text string) (float64, error) {
	whole, decimals, hasComma := strings.Cut(text, ",")
	if hasComma {
		text = whole + "." + decimals
	}
	if strings.Trim(text, "0123456789.") != "" {
		return 0, errNotNumber // ParseFloat alone would take 0x10, 1_0, 1e3 and Inf
	}
	if hasComma && len(decimals) == 3 && strings.Trim(whole, "0") != "" {
		return 0, errThousands
	}
	value, err := strconv.ParseFloat(text, 64)
	if errors.Is(err, strconv.ErrSyntax) {
		return 0, errNotNumber
	}
	return value, nil // out of range is +Inf, which every caller's upper limit refuses
}

func parseDigits(text string) (float64, error) {
	if strings.Trim(text, "0123456789") != "" {
		return 0, errNotNumber
	}
	return strconv.ParseFloat(text, 64)
}

// shortened keeps a message readable when something large was pasted.
func shortened(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "..."
	}
	return text
}
