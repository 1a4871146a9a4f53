package layout

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLargestCrop(t *testing.T) {
	for _, test := range []struct {
		name   string
		w, h   int
		aspect float64
		want   Crop
	}{
		{"square of a wide picture", 400, 300, 1, Crop{50, 0, 300, 300}},
		{"square of a high picture", 300, 400, 1, Crop{0, 50, 300, 300}},
		{"same shape", 400, 300, 4.0 / 3, Crop{0, 0, 400, 300}},
		{"wider", 400, 300, 2, Crop{0, 50, 400, 200}},
		{"higher", 400, 300, 0.5, Crop{125, 0, 150, 300}},
		{"one pixel", 1, 1, 2, Crop{0, 0.25, 1, 0.5}},
		{"one row", 100, 1, 1, Crop{49.5, 0, 1, 1}},
		{"no picture", 0, 300, 1, Crop{}},
		{"no shape", 400, 300, 0, Crop{}},
		{"NaN", 400, 300, math.NaN(), Crop{}},
		{"infinite", 400, 300, math.Inf(1), Crop{}},
	} {
		t.Run(test.name, func(t *testing.T) {
			requireCrop(t, test.want, LargestCrop(test.w, test.h, test.aspect))
		})
	}
}

func requireCrop(t *testing.T, want, got Crop) {
	t.Helper()
	require.InDeltaSlice(t, []float64{want.X, want.Y, want.W, want.H}, []float64{got.X, got.Y, got.W, got.H}, 1e-9)
}

func TestCropMovedBy(t *testing.T) {
	c := Crop{100, 50, 200, 150}
	for _, test := range []struct {
		name   string
		dx, dy float64
		want   Crop
	}{
		{"freely", 10.5, -20.25, Crop{110.5, 29.75, 200, 150}},
		{"to the lower right", 1e9, 1e9, Crop{200, 150, 200, 150}},
		{"to the upper left", math.Inf(-1), math.Inf(-1), Crop{0, 0, 200, 150}},
		{"by NaN", math.NaN(), 5, Crop{100, 55, 200, 150}},
	} {
		t.Run(test.name, func(t *testing.T) { requireCrop(t, test.want, c.MovedBy(test.dx, test.dy, 400, 300)) })
	}
	t.Run("in a picture that has become smaller", func(t *testing.T) {
		requireCrop(t, Crop{0, 0, 100, 75}, c.MovedBy(0, 0, 100, 75))
	})
}

func TestCropZoomed(t *testing.T) {
	c := Crop{100, 50, 200, 150}
	for _, test := range []struct {
		name             string
		factor, atX, atY float64
		want             Crop
	}{
		{"in about its centre", 2, 200, 125, Crop{150, 87.5, 100, 75}},
		{"in about its corner", 2, 100, 50, Crop{100, 50, 100, 75}},
		{"out about its centre", 0.8, 200, 125, Crop{75, 31.25, 250, 187.5}},
		{"out against the edge", 0.5, 100, 50, Crop{0, 0, 400, 300}},
		{"out past the picture", 0.001, 300, 200, Crop{0, 0, 400, 300}},
		{"in to the shortest side", 1e9, 100, 50, Crop{100, 50, 8 * 4.0 / 3, 8}},
		{"infinitely", math.Inf(1), 100, 50, Crop{100, 50, 8 * 4.0 / 3, 8}},
		{"by nothing", 0, 100, 50, c},
		{"backwards", -2, 100, 50, c},
		{"by NaN", math.NaN(), 100, 50, c},
		{"about NaN", 2, math.NaN(), 50, c},
	} {
		t.Run(test.name, func(t *testing.T) {
			requireCrop(t, test.want, c.Zoomed(test.factor, test.atX, test.atY, 400, 300))
		})
	}
	t.Run("a picture under 8 pixels", func(t *testing.T) {
		small := LargestCrop(6, 4, 1)
		requireCrop(t, Crop{1, 0, 4, 4}, small.Zoomed(3, 3, 2, 6, 4))
	})
}

func TestCropZoomKeepsThePoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Crop{300, 300, 400, 300}
		at := func(name string, from, span float64) float64 {
			return from + span*rapid.Float64Range(0, 1).Draw(t, name)
		}
		x, y := at("x", c.X, c.W), at("y", c.Y, c.H)
		zoomed := c.Zoomed(rapid.Float64Range(0.6, 20).Draw(t, "factor"), x, y, 1000, 900)
		require.InDelta(t, (x-c.X)/c.W, (x-zoomed.X)/zoomed.W, 1e-9)
		require.InDelta(t, (y-c.Y)/c.H, (y-zoomed.Y)/zoomed.H, 1e-9)
	})
}

func TestCropRefit(t *testing.T) {
	c := Crop{100, 100, 200, 200}
	t.Run("keeps centre and area", func(t *testing.T) {
		requireCrop(t, Crop{0, 150, 400, 100}, c.Refit(4, 1000, 1000))
	})
	t.Run("moves in from the edge", func(t *testing.T) {
		requireCrop(t, Crop{0, 50, 400, 100}, Crop{0, 0, 200, 200}.Refit(4, 1000, 1000))
	})
	t.Run("shrinks when the picture is too small", func(t *testing.T) {
		requireCrop(t, Crop{0, 162.5, 300, 75}, c.Refit(4, 300, 400))
	})
	t.Run("without an area is the largest", func(t *testing.T) {
		requireCrop(t, LargestCrop(300, 400, 2), Crop{}.Refit(2, 300, 400))
	})
	t.Run("to no shape is none", func(t *testing.T) {
		requireCrop(t, c, c.Refit(math.NaN(), 300, 400))
	})
}

// However a crop is dragged, zoomed and refitted, it keeps its shape and stays in
// the picture, and its short side stays at 8 pixels or more.
func TestCropKeepsShapeAndPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		picW, picH := rapid.IntRange(1, 20_000).Draw(t, "picW"), rapid.IntRange(1, 20_000).Draw(t, "picH")
		shape := rapid.Float64Range(0.05, 20)
		aspect := shape.Draw(t, "aspect")
		coordinate := rapid.Float64Range(-30_000, 30_000)
		c := LargestCrop(picW, picH, aspect)
		for range rapid.IntRange(1, 60).Draw(t, "edits") {
			switch rapid.IntRange(0, 6).Draw(t, "edit") {
			case 0, 1, 2:
				c = c.MovedBy(coordinate.Draw(t, "dx"), coordinate.Draw(t, "dy"), picW, picH)
			case 3, 4, 5:
				c = c.Zoomed(rapid.Float64Range(0.01, 100).Draw(t, "factor"), coordinate.Draw(t, "x"), coordinate.Draw(t, "y"), picW, picH)
			case 6:
				aspect = shape.Draw(t, "new aspect")
				c = c.Refit(aspect, picW, picH)
			}
			require.InEpsilon(t, aspect, c.W/c.H, 1e-12, "the shape is kept")
			require.True(t, c.X >= 0 && c.Y >= 0 && c.X+c.W <= float64(picW) && c.Y+c.H <= float64(picH), "%v in %d x %d", c, picW, picH)
			require.NoError(t, c.Validate(picW, picH, aspect))
		}
		largest := LargestCrop(picW, picH, aspect)
		c = c.Zoomed(1e6, c.X, c.Y, picW, picH)
		require.InDelta(t, math.Min(8, math.Min(largest.W, largest.H)), math.Min(c.W, c.H), 1e-9)
	})
}

func TestCropValidate(t *testing.T) {
	require.NoError(t, Crop{0, 0, 400, 300}.Validate(400, 300, 4.0/3))
	require.NoError(t, Crop{10.2, 0, 300, 300}.Validate(400, 300, 1.0005), "whole pixels may be typed")
	require.NoError(t, Crop{100.005, -0.005, 300, 300}.Validate(400, 300, 1), "typed numbers are rounded")
	for _, test := range []struct {
		crop    Crop
		aspect  float64
		because string
	}{
		{Crop{0, 0, 0, 0}, 1, "crop 0,0,0,0 is empty"},
		{Crop{0, 0, -5, 5}, 1, "is empty"},
		{Crop{-1, 0, 100, 100}, 1, "reaches out of the picture of 400 x 300 pixels"},
		{Crop{0, 201, 100, 100}, 1, "reaches out of the picture"},
		{Crop{301, 0, 100, 100}, 1, "reaches out of the picture"},
		{Crop{300.02, 0, 100, 100}, 1, "reaches out of the picture"},
		{Crop{0, 0, math.NaN(), 100}, 1, "is not a number"},
		{Crop{0, math.Inf(1), 100, 100}, 1, "is not a number"},
		{Crop{0, 0, 100, 100}, 0, "crop shape 0 is not possible"},
		{Crop{0, 0, 100, 100}, math.NaN(), "crop shape NaN is not possible"},
		{Crop{0, 0, 100, 100}, 4, "crop 0,0,100,100 is 1 times as wide as high but the picture area is 4 times: use 0,25,200,50"},
	} {
		t.Run(fmt.Sprint(test.crop, test.aspect), func(t *testing.T) {
			err := test.crop.Validate(400, 300, test.aspect)
			require.ErrorContains(t, err, test.because)
			requireSentence(t, err)
		})
	}
}

// The crop that a refusal names is accepted when it is typed.
func TestCropNamedInRefusalIsAccepted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		picW, picH := rapid.IntRange(20, 5000).Draw(t, "picW"), rapid.IntRange(20, 5000).Draw(t, "picH")
		aspect := rapid.Float64Range(0.2, 5).Draw(t, "aspect")
		named := LargestCrop(picW, picH, 1).Refit(aspect, picW, picH).String()
		var typed Crop
		require.NoError(t, json.Unmarshal([]byte("["+named+"]"), &typed))
		require.NoError(t, typed.Validate(picW, picH, aspect))
	})
}

func TestCropInFiles(t *testing.T) {
	data, err := json.Marshal(Crop{1, 2.5, 300, 400})
	require.NoError(t, err)
	require.Equal(t, "[1,2.5,300,400]", string(data))
	var back Crop
	require.NoError(t, json.Unmarshal(data, &back))
	require.Equal(t, Crop{1, 2.5, 300, 400}, back)
	require.ErrorContains(t, json.Unmarshal([]byte("[1,2,3]"), &back), "has 3 numbers in place of 4: write [x, y, w, h]")
	_, err = json.Marshal(Crop{X: math.NaN()})
	require.Error(t, err)
}
