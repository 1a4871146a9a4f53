package strict

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWithinNamesTheFirstOutside(t *testing.T) {
	at := func(v float64) Range { return Range{"pitch_mm", v, 0.01, 1, "mm"} }
	require.NoError(t, Within(at(0.01), at(1)))
	require.EqualError(t, Within(at(0.5), at(2), at(3)), "pitch_mm 2 is out of range: give 0.01 to 1 mm")
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.Nextafter(0.01, 0)} {
		require.Error(t, Within(at(v)))
	}
}
