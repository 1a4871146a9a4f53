package swatch_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/swatch"
)

func TestParseSeen(t *testing.T) {
	for text, want := range map[string]swatch.Seen{
		"top coat":                  {Layer: 0, Second: -1},
		"Slate":                     {Layer: 0, Second: -1},
		" lagoon ":                  {Layer: 1, Second: -1},
		"black and gold":            {Layer: 2, Second: -1},
		"ground":                    {Layer: 3, Second: -1},
		"chalk":                     {Layer: 3, Second: -1},
		"mostly  lagoon":            {Layer: 1, Second: -1, Mostly: true},
		"mostly top coat":           {Layer: 0, Second: -1, Mostly: true},
		"lagoon and slate":          {Layer: 0, Second: 1},
		"lagoon and black and gold": {Layer: 1, Second: 2},
		"black and gold and ground": {Layer: 2, Second: 3},
		"scorched":                  {Layer: 3, Second: -1, Scorched: true},
	} {
		got, err := swatch.ParseSeen(text, stack())
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "mostly", "mostly puce", "puce", "lagoon and lagoon", "lagoon and", " and ", "lagoon, slate"} {
		_, err := swatch.ParseSeen(text, stack())
		require.ErrorContains(t, err, "top coat, slate, lagoon, black and gold, ground, scorched", text)
	}
}

func TestSharesOfWhatIsSeenCanAddUp(t *testing.T) {
	for _, text := range []string{"lagoon", "mostly lagoon", "lagoon and slate", "ground", "scorched"} {
		seen, err := swatch.ParseSeen(text, stack())
		require.NoError(t, err)
		var low, high float64
		for layer := range 4 {
			l, h := seen.Share(layer)
			require.True(t, 0 <= l && l < h && h <= 1)
			low, high = low+l, high+h
		}
		require.LessOrEqual(t, low, 1.0, text)
		require.GreaterOrEqual(t, high, 1.0, text)
	}
	seen, err := swatch.ParseSeen("mostly lagoon", stack())
	require.NoError(t, err)
	low, high := seen.Share(1)
	require.Equal(t, [2]float64{0.5, 0.85}, [2]float64{low, high})
}
