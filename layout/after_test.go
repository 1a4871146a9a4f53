package layout

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Common practice, no source.
func TestAfter(t *testing.T) {
	whats := func(steps []Step) (all []What) {
		for _, s := range steps {
			all = append(all, s.What)
		}
		return all
	}
	require.Equal(t, []What{WipeDamp, WipeDry, TouchEdges, Hang}, whats(After(Canvas, false)))
	require.Equal(t, []What{WipeDry, TouchEdges, Hang}, whats(After(Tile, false)), "a tile is wiped dry")
	require.Equal(t, []What{WipeDry, TryClear, ClearCoat, ClearDry, TouchEdges, Hang}, whats(After(Board, true)))
	cautions := strings.Join(After(Canvas, true)[2].Cautions, "\n")
	require.Contains(t, cautions, "water-based")
	require.Contains(t, cautions, "scrap")
}

func TestBurnEnds(t *testing.T) {
	zone := time.FixedZone("here", -5*3600)
	start := time.Date(2030, time.February, 28, 21, 30, 0, 0, zone)
	for burn, want := range map[time.Duration]string{
		0:                             "21:30",
		-time.Hour:                    "21:30",
		20 * time.Second:              "21:31",
		2 * time.Hour:                 "23:30",
		8*time.Hour + 10*time.Minute:  "05:40 the next day",
		50 * time.Hour:                "23:30 two days later",
		12 * 24 * time.Hour:           "21:30 12 days later",
		2*time.Hour + 30*time.Minute:  "00:00 the next day",
		26*time.Hour + 29*time.Minute: "23:59 the next day",
	} {
		end, clock := BurnEnds(start, burn)
		require.Equal(t, want, clock.String())
		require.Equal(t, clock.Hour, end.Hour())
	}
}
