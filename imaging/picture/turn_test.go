package picture

import (
	"context"
	"image"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// turned does a turn pixel by pixel, from its words: quarters clockwise, then
// left to right.
func turned(g *plane.Grey16, t Turn) *plane.Grey16 {
	for range t.Quarters {
		out := plane.NewGrey16(g.H, g.W)
		for y := range g.H {
			for x := range g.W {
				out.Row(x)[g.H-1-y] = g.Row(y)[x]
			}
		}
		g = out
	}
	if t.Mirror {
		out := plane.NewGrey16(g.W, g.H)
		for y := range g.H {
			for x := range g.W {
				out.Row(y)[g.W-1-x] = g.Row(y)[x]
			}
		}
		g = out
	}
	return g
}

func drawTurn(t *rapid.T, name string) Turn {
	return Turn{rapid.IntRange(0, 3).Draw(t, name+" quarters"), rapid.Bool().Draw(t, name+" mirror")}
}

func TestEveryTurnOfEverySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")
		img := image.NewGray16(image.Rect(-3, 7, -3+w, 7+h))
		for i := range img.Pix {
			img.Pix[i] = uint8(i * 7919 >> 3)
		}
		p, err := New(img)
		require.NoError(t, err)
		p.header.Orientation = rapid.IntRange(1, 8).Draw(t, "orientation")
		turn := drawTurn(t, "turn")
		plain := &Picture{img: img, space: plainSRGB(), header: Header{Orientation: 1}}
		stored, err := plain.Grey(context.Background(), Turn{}, colour.Stored{})
		require.NoError(t, err)
		want := turned(turned(stored, orientations[p.header.Orientation]), turn)
		got, err := p.Grey(context.Background(), turn, colour.Stored{})
		require.NoError(t, err)
		require.Equal(t, want, got)
		gw, gh := p.Size(turn)
		require.Equal(t, [2]int{want.W, want.H}, [2]int{gw, gh})
		rgb, err := p.RGB(context.Background(), turn, colour.Stored{})
		require.NoError(t, err)
		for i, v := range want.Pix {
			require.Equal(t, []uint16{v, v, v}, rgb.Pix[3*i:3*i+3])
		}
	})
}

// A picture taller than a strip, turned by several workers.
func TestTurningInStrips(t *testing.T) {
	img := image.NewGray16(image.Rect(0, 0, 1000, 1200))
	for i := range img.Pix {
		img.Pix[i] = uint8(i * 7919 >> 5)
	}
	p, err := New(img)
	require.NoError(t, err)
	stored, err := p.Grey(context.Background(), Turn{}, colour.Stored{})
	require.NoError(t, err)
	for quarters := range 4 {
		for _, mirror := range []bool{false, true} {
			turn := Turn{quarters, mirror}
			got, err := p.Grey(context.Background(), turn, colour.Stored{})
			require.NoError(t, err)
			require.Equal(t, turned(stored, turn).Pix, got.Pix)
		}
	}
}

// The turning library works in 32-bit floats; every one of the 65536 values must
// come through.
func TestTurningKeepsEveryValue(t *testing.T) {
	img := image.NewGray16(image.Rect(0, 0, 256, 256))
	for i := range 65536 {
		img.Pix[2*i], img.Pix[2*i+1] = byte(i>>8), byte(i)
	}
	for _, s := range []sheet{greySheet{plane.NewGrey16(256, 256), rec709, 0}, rgbSheet{plane.NewRGB16(256, 256), nil, paper{}}} {
		every := func(y int, light, _ []uint16) {
			for x := range 256 {
				v := uint16(256*y + x)
				light[3*x], light[3*x+1], light[3*x+2] = v, v, v
			}
		}
		turn := Turn{2, false}
		l := layer{read: every, turn: turn, filter: turn.filter(), sheet: s, height: 256}
		l.strip(image.Rect(0, 0, 256, 256), l.newRow(256))
		var pix []uint16
		step := 1
		switch s := s.(type) {
		case greySheet:
			pix = s.Pix
		case rgbSheet:
			pix, step = s.Pix, 3
		}
		for i := range 65536 {
			require.EqualValues(t, 65535-i, pix[step*i])
		}
	}
}

func TestThenIsOneTurnAfterTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := plane.NewGrey16(3, 2)
		copy(g.Pix, []uint16{1, 2, 3, 4, 5, 6})
		a, b := drawTurn(t, "first"), drawTurn(t, "second")
		require.Equal(t, turned(turned(g, a), b), turned(g, a.then(b)))
	})
}

func TestTurnValidate(t *testing.T) {
	p, err := New(image.NewGray(image.Rect(0, 0, 2, 2)))
	require.NoError(t, err)
	for _, q := range []int{-1, 4} {
		_, err := p.Grey(context.Background(), Turn{Quarters: q}, colour.Stored{})
		require.ErrorContains(t, err, "quarters is outside 0..3")
		_, err = p.RGB(context.Background(), Turn{Quarters: q}, colour.Stored{})
		require.Error(t, err)
	}
}
