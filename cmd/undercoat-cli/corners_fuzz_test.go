package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzParseCorners reads any text as four corners; what it accepts is numbers, as many
// as were written.
func FuzzParseCorners(f *testing.F) {
	for _, seed := range []string{"1,2 3,4 5,6 7,8", "1,2", "1;2 3;4 5;6 7;8", "NaN,1 2,3 4,5 6,7", "1e400,0 0,0 0,0 0,0", "\xff,\x00 ,", "1,2\t3,4\n5,6 7,8"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		corners, err := parseCorners(text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.Len(t, strings.Fields(text), len(corners))
		for _, c := range corners {
			require.Equal(t, [2]float64{c.X, c.Y}, [2]float64{c.X + 0, c.Y + 0}, "a number, which NaN is not equal to")
		}
	})
}
