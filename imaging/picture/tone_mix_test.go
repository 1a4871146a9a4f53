package picture

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

func mixed16(t require.TestingT, light *plane.RGB16, m Mix) *plane.Grey16 {
	out, err := GreyOf(context.Background(), light, m)
	require.NoError(t, err)
	require.Equal(t, [2]int{light.W, light.H}, [2]int{out.W, out.H})
	return out
}

func TestTheZeroMixIsThePicturesOwnGrey(t *testing.T) {
	white := colour.Stored{R: 255, G: 255, B: 255}
	for name, within := range map[string]float64{"dunes.jpg": 0, "rose.png": 1} { // the rose is partly transparent
		p, err := Decode(context.Background(), read(t, name), Limits{})
		require.NoError(t, err)
		want, err := p.Grey(context.Background(), Turn{}, white)
		require.NoError(t, err)
		light, err := p.RGB(context.Background(), Turn{}, white)
		require.NoError(t, err)
		got := mixed16(t, light, Mix{})
		for i, v := range want.Pix {
			require.InDelta(t, v, got.Pix[i], within, name)
		}
		require.Equal(t, got.Pix, mixed16(t, light, Mix{0.2126, 0.7152, 0.0722}).Pix)
	}
}

func TestMixes(t *testing.T) {
	light := &plane.RGB16{W: 2, H: 1, Pix: []uint16{1000, 20000, 60000, 5, 6, 7}}
	for _, c := range []struct {
		mix  Mix
		want []uint16
	}{
		{Mix{R: 1}, []uint16{1000, 5}},
		{Mix{G: 1}, []uint16{20000, 6}},
		{Mix{B: 1}, []uint16{60000, 7}},
		{Mix{R: 0.5, G: 0.25, B: 0.25}, []uint16{20500, 6}},
		{Mix{R: -1, B: 2}, []uint16{65535, 9}},
		{Mix{R: 2, B: -1}, []uint16{0, 3}},
	} {
		require.Equal(t, c.want, mixed16(t, light, c.mix).Pix, "%+v", c.mix)
	}
}

func TestAGreyKeepsItsValueUnderAnyMix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Mix{R: rapid.Float64Range(-1, 1).Draw(t, "r"), B: rapid.Float64Range(-1, 1).Draw(t, "b")}
		if m.G = 1 - m.R - m.B; m.Validate() != nil {
			return
		}
		v := rapid.Uint16().Draw(t, "light")
		require.Equal(t, []uint16{v}, mixed16(t, &plane.RGB16{W: 1, H: 1, Pix: []uint16{v, v, v}}, m).Pix)
	})
}

func TestScaledMixes(t *testing.T) {
	require.Equal(t, Mix{0.25, 0.5, 0.25}, Mix{1, 2, 1}.Scaled())
	require.Equal(t, Mix{}, Mix{1, -1, 0}.Scaled())
	require.Equal(t, Mix{}, Mix{math.NaN(), 0, 0}.Scaled())
}

func TestMixRefuses(t *testing.T) {
	for _, c := range []struct {
		mix  Mix
		want string
	}{
		{Mix{0.5, 0.5, 0.5}, "sum to 1.5 in place of 1"},
		{Mix{3, -1, -1}, "red weight 3 is outside -1 to 2"},
		{Mix{0, math.NaN(), 1}, "green weight NaN"},
		{Mix{1, 0, math.Inf(1)}, "blue weight +Inf"},
	} {
		_, err := GreyOf(context.Background(), plane.NewRGB16(1, 1), c.mix)
		require.ErrorContains(t, err, c.want)
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := GreyOf(ended, plane.NewRGB16(3, 3), Mix{})
	require.ErrorIs(t, err, context.Canceled)
	for _, size := range [][2]int{{0, 0}, {0, 4}, {1, 1}, {9, 1}} {
		mixed16(t, plane.NewRGB16(size[0], size[1]), Mix{})
	}
}
