package picture

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

// The cube against the profile itself, at values between its nodes.
func TestTheCubeFollowsItsProfile(t *testing.T) {
	for _, c := range []struct {
		file     string
		channels int
	}{{"profile-lut16.png", 3}, {"profile-stages.png", 3}, {"profile-inks8.jpg", 4}, {"profile-inks16.jpg", 4}} {
		t.Run(c.file, func(t *testing.T) {
			f, err := formatOf(sample(t, c.file))
			require.NoError(t, err)
			facts, err := f.probe(sample(t, c.file))
			require.NoError(t, err)
			p, err := openProfile(facts.profile, c.channels)
			require.NoError(t, err)
			s, err := p.space(context.Background())
			require.NoError(t, err)
			require.NotNil(t, s.cube)
			exact := ask(p.stored)
			random := rand.New(rand.NewPCG(3, 4))
			worst, sum := 0.0, 0.0
			const tries = 5000
			for range tries {
				var stored [4]uint16
				var v [4]float64
				for i := range c.channels {
					stored[i] = uint16(random.Uint32())
					v[i] = float64(stored[i]) / full
				}
				rgb, err := exact(v)
				require.NoError(t, err)
				want := cut(colour.Linear{R: colour.Decode(rgb[0]), G: colour.Decode(rgb[1]), B: colour.Decode(rgb[2])})
				var px [3]uint16
				s.cube.light(stored[:c.channels], px[:])
				got := colour.Linear{R: float64(px[0]) / full, G: float64(px[1]) / full, B: float64(px[2]) / full}
				d := colour.DE2000(want.Lab(), got.Lab())
				worst, sum = max(worst, d), sum+d
			}
			t.Logf("mean %.3f, worst %.2f", sum/tries, worst)
			require.Less(t, sum/tries, 0.15)
			require.Less(t, worst, 1.5)
		})
	}
}

// At a node the cube gives what it was told, the outermost nodes included.
func TestTheCubeAtItsNodes(t *testing.T) {
	for channels := range cubeCells {
		c, err := newCube(context.Background(), channels, func() func([4]float64) ([3]float64, error) {
			return func(v [4]float64) ([3]float64, error) { return [3]float64{v[0], v[channels-1], v[1] * v[2]}, nil }
		})
		require.NoError(t, err)
		require.EqualValues(t, cubeBytes(channels), 12*len(c.nodes))
		for _, v := range []uint16{0, full} {
			for _, w := range []uint16{0, full} {
				stored := []uint16{v, w, w, w}[:channels]
				stored[channels-1] = v
				var px [3]uint16
				c.light(stored, px[:])
				wantThird := uint16(0)
				if stored[1] == full && stored[2] == full {
					wantThird = full
				}
				require.Equal(t, [3]uint16{v, v, wantThird}, px)
			}
		}
	}
	_, err := newCube(context.Background(), 5, nil)
	require.ErrorContains(t, err, "a table of 5 channels is outside 3..4")
}

func TestTheCubeStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	_, err := newCube(ctx, 4, func() func([4]float64) ([3]float64, error) {
		return func([4]float64) ([3]float64, error) {
			cancel()
			return [3]float64{}, nil
		}
	})
	require.ErrorIs(t, err, context.Canceled)
}
