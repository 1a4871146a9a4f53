package export

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCautionsAreAllThere(t *testing.T) {
	// What each must speak of. Source: the class, IEC 60825-1:2014; the rest common practice.
	wanted := [][]string{
		{"0.5 W", "class 4", "IEC 60825-1", "stray light", "eyewear", "wavelength"},
		{"unattended", "put out a fire"},
		{"fumes", "outdoors", "filter"},
		{"PVC", "vinyl", "unknown make"},
		{"solvent", "cure fully"},
		{"aerosols", "flame", "heat guns"},
		{"Old paint", "lead"},
		{"rights", "picture"},
		{"maker's instructions", "local codes", "licensed practice", "come before"},
	}
	got := Cautions()
	require.Len(t, got, len(wanted))
	for i, words := range wanted {
		for _, word := range words {
			require.Contains(t, got[i], word)
		}
		require.True(t, strings.HasSuffix(got[i], "."), "a full sentence: %q", got[i])
	}
}

func TestCautionsBelongToTheCaller(t *testing.T) {
	changed := Cautions()
	changed[0] = ""
	require.NotEmpty(t, Cautions()[0])
}
