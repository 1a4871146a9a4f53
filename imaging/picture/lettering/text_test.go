package lettering

import (
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

func TestReadText(t *testing.T) {
	cases := []struct {
		name, text string
		want       []string // the letters with their marks
	}{
		{"plain", "No. 7", []string{"N", "o", ".", " ", "7"}},
		{"composed", "e\u0301", []string{"é"}},
		{"composed twice", "u\u0308\u0304", []string{"ǖ"}},
		{"a mark left over", "x\u0301y", []string{"x\u0301", "y"}},
		{"a mark alone", "\u0301x", []string{"\u0301", "x"}},
		{"unseen", "so\u00adft\u200b\u200d\ufe0f\ufeff", []string{"s", "o", "f", "t"}},
		{"beyond 16 bits", "𝔘", []string{"𝔘"}},
		{"Hangul parts", "\u1112\u1161\u11ab", []string{"한"}},
		{"Thai", "ก่", []string{"ก่"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			clusters, err := readText(c.text)
			require.NoError(t, err)
			var got []string
			for _, cl := range clusters {
				got = append(got, cl.text())
			}
			require.Equal(t, c.want, got)
		})
	}
}

func TestWritingThatNeedsMoreIsRefused(t *testing.T) {
	cases := []struct{ name, text, want string }{
		{"Arabic", "سلام", `the text has Arabic letters ("س"), which run from right to left and may join`},
		{"Hebrew", "שלום", "the text has Hebrew letters"},
		{"Devanagari", "नमस्ते", `the text has Devanagari letters ("न"), whose shape and order depend on their neighbours`},
		{"Tamil among Latin", "A வ", "the text has Tamil letters"},
		{"Khmer", "ក", "the text has Khmer letters"},
		{"Arabic shapes", "\ufe8d", "the text has Arabic letters"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := readText(c.text)
			require.ErrorContains(t, err, c.want)
			require.ErrorContains(t, err, "bring this line in as a picture")
		})
	}
}

func TestNeighbourlyScriptsAreKnown(t *testing.T) {
	for _, name := range neighbourly {
		require.Contains(t, unicode.Scripts, name)
	}
}

func TestMarksAreCautioned(t *testing.T) {
	clusters, err := readText("x\u0301x\u0301é ก่ข้")
	require.NoError(t, err)
	said := cautions(clusters)
	require.Len(t, said, 2)
	require.Contains(t, said[0], "the marks on \"x\u0301\" are placed by their shape")
	require.Contains(t, said[1], "Thai and Lao letters")
}
