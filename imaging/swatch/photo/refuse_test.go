package photo_test

import (
	"context"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/photo"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
)

// leftOut gives the reasons by id.
func leftOut(r swatch.Readings) map[string]string {
	reasons := map[string]string{}
	for _, s := range r.Swatches {
		if s.LinearRGB == nil {
			reasons[s.ID] = s.LeftOut
		}
	}
	return reasons
}

// of finds a swatch by its power.
func of(c swatch.Chart, power float64) string {
	for _, s := range c.Swatches {
		if s.Setting.PowerPercent == power {
			return s.ID
		}
	}
	return ""
}

func TestReadLeavesOutWhatCannotBeRead(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	pale, mid := of(c, 46), of(c, 24)
	for name, tc := range map[string]struct {
		change func(*simulate.Scene)
		want   map[string]string
	}{
		"blurred":    {func(s *simulate.Scene) { s.Blurred = map[string]bool{pale: true} }, map[string]string{pale: "out of focus"}},
		"covered":    {func(s *simulate.Scene) { s.Spoilt = map[string]bool{mid: true} }, map[string]string{mid: "two looks side by side"}},
		"not burned": {func(s *simulate.Scene) { s.Missing = map[string]bool{pale: true} }, map[string]string{pale: "not burned, although less light burned others"}},
	} {
		t.Run(name, func(t *testing.T) {
			s := scene(t, c)
			tc.change(&s)
			_, pic := take(t, s)
			res, err := photo.Read(context.Background(), pic, c, photo.Options{})
			require.NoError(t, err)
			got := leftOut(res.Readings)
			require.Len(t, got, len(tc.want), "%v", got)
			for id, reason := range tc.want {
				require.Contains(t, got[id], reason)
			}
			require.NoError(t, res.Readings.Validate())
		})
	}
}

func TestReadLeavesOutClippedSwatches(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	s := scene(t, c)
	s.Exposure, s.FallOff = 1.8, 0
	_, pic := take(t, s)
	res, err := photo.Read(context.Background(), pic, c, photo.Options{})
	require.NoError(t, err)
	got := leftOut(res.Readings)
	require.Contains(t, got[of(c, 60)], "too bright for the photograph", "the palest")
	require.NotContains(t, got, of(c, 10), "the dark top coat")
}

func TestReadLeavesOutWhatLiesOutside(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	s := scene(t, c)
	s.Fill = 1.25
	shot, pic := take(t, s)
	_, err := photo.Read(context.Background(), pic, c, photo.Options{})
	require.ErrorContains(t, err, "no chart is found in the photograph")

	res, err := photo.Read(context.Background(), pic, c, photo.Options{Corners: &shot.Corners})
	require.NoError(t, err)
	got := leftOut(res.Readings)
	require.NotEmpty(t, got)
	require.Less(t, len(got), len(c.Swatches))
	for _, reason := range got {
		require.Equal(t, "outside the photograph", reason)
	}
}

func TestReadRefusesPhotographsWithoutAChart(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	rng := rand.New(rand.NewPCG(1, 1))
	for name, at := range map[string]func(x, y int) color.RGBA{
		"even":  func(int, int) color.RGBA { return color.RGBA{90, 90, 90, 255} },
		"noise": func(int, int) color.RGBA { v := uint8(rng.UintN(256)); return color.RGBA{v, v, v, 255} },
		"tiles": func(x, y int) color.RGBA {
			if (x/40+y/40)%2 == 0 {
				return color.RGBA{200, 190, 180, 255}
			}
			return color.RGBA{40, 50, 60, 255}
		},
		"hills": func(x, y int) color.RGBA {
			v := uint8(128 + 100*math.Sin(float64(x)/31)*math.Cos(float64(y)/23))
			return color.RGBA{v, 255 - v, 128, 255}
		},
	} {
		t.Run(name, func(t *testing.T) {
			img := image.NewRGBA(image.Rect(0, 0, 1000, 700))
			for y := range 700 {
				for x := range 1000 {
					img.SetRGBA(x, y, at(x, y))
				}
			}
			pic, err := picture.New(img)
			require.NoError(t, err)
			_, err = photo.Read(context.Background(), pic, c, photo.Options{})
			require.ErrorContains(t, err, "no chart is found in the photograph: take one that shows all four corner marks")
		})
	}
}

func TestReadSaysWhenAllSwatchesAreAlike(t *testing.T) {
	for name, tc := range map[string]struct {
		real float64 // factor on the doses that the paint takes
		want string
	}{
		"all unburned": {20, "all swatches look like the top coat: burn a chart with higher powers"},
		"all ground":   {0.05, "all swatches look the same, none like the top coat: burn a chart with lower powers"},
	} {
		t.Run(name, func(t *testing.T) {
			c := chart(t, powers(10, 32, 2))
			s := scene(t, c)
			s.Stack.Curve.ScorchDoseJCM2 = 0
			for i := range s.Stack.Curve.Points {
				s.Stack.Curve.Points[i].DoseJCM2 *= tc.real
			}
			shot, pic := take(t, s)
			_, err := photo.Read(context.Background(), pic, c, photo.Options{Corners: &shot.Corners})
			require.ErrorContains(t, err, tc.want)
		})
	}
}

func TestReadCautionsOnThreeSwatches(t *testing.T) {
	c := chart(t, []float64{8, 16, 40})
	_, pic := take(t, scene(t, c))
	res, err := photo.Read(context.Background(), pic, c, photo.Options{})
	require.NoError(t, err)
	require.Contains(t, res.Cautions, "only 3 of 3 swatches could be read, and a curve wants 5 or more: burn a chart with more powers or take another photograph")
}

func TestReadRefusals(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	shot, pic := take(t, scene(t, c))
	tiny, err := picture.New(image.NewRGBA(image.Rect(0, 0, 280, 900)))
	require.NoError(t, err)
	unnamed := c
	unnamed.Machine = nil
	unmarked := c
	unmarked.MarkSide = 0
	bare := c
	bare.Stack = nil
	lines := c
	lines.Kind = swatch.Lines
	crossed := shot.Corners
	crossed[1], crossed[2] = crossed[2], crossed[1]
	far := shot.Corners
	far[2].X = 1e7
	near := [4]layout.PicturePoint{{X: 10, Y: 10}, {X: 110, Y: 10}, {X: 110, Y: 80}, {X: 10, Y: 80}}
	none := shot.Corners
	none[0].X = math.NaN()
	for name, tc := range map[string]struct {
		pic   *picture.Picture
		chart swatch.Chart
		o     photo.Options
		want  string
	}{
		"too small":           {tiny, c, photo.Options{}, "the photograph is 280 x 900 pixels, too small"},
		"swatches too small":  {pic, c, photo.Options{Corners: &near}, "pixels wide in the photograph: go nearer"},
		"no machine":          {pic, unnamed, photo.Options{}, "name the machine"},
		"marks unknown":       {pic, unmarked, photo.Options{}, "point at its four corners"},
		"no known colour":     {pic, bare, photo.Options{}, "mark a white paper in it, or name the stack"},
		"line chart":          {pic, lines, photo.Options{}, "a line chart is measured, not looked at"},
		"crossed corners":     {pic, c, photo.Options{Corners: &crossed}, "corners: the sides between the corners cross"},
		"corner far outside":  {pic, c, photo.Options{Corners: &far}, "corner 3 at 1e+07,"},
		"corner not a number": {pic, c, photo.Options{Corners: &none}, "corner 1 at NaN"},
		"paper outside":       {pic, c, photo.Options{White: &image.Rectangle{Max: image.Pt(5000, 10)}}, "does not lie in the photograph"},
		"paper of no white":   {pic, c, photo.Options{PaperReflectance: 0.2}, "give 0.5 to 1"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := photo.Read(context.Background(), tc.pic, tc.chart, tc.o)
			require.ErrorContains(t, err, tc.want)
		})
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = photo.Read(ctx, pic, c, photo.Options{})
	require.ErrorIs(t, err, context.Canceled)
}

func TestReadByCornersGivenByHand(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	s := scene(t, c)
	s.Roll = 180
	shot, pic := take(t, s)
	clicked := shot.Corners
	for i := range clicked { // nobody clicks to the pixel
		clicked[i].X += 5 * math.Cos(float64(i))
		clicked[i].Y += 5 * math.Sin(float64(2*i))
	}
	for name, order := range map[string][4]int{"in the chart's order": {0, 1, 2, 3}, "as they lie in the photograph": {2, 3, 0, 1}} {
		t.Run(name, func(t *testing.T) {
			given := [4]layout.PicturePoint{clicked[order[0]], clicked[order[1]], clicked[order[2]], clicked[order[3]]}
			res, err := photo.Read(context.Background(), pic, c, photo.Options{Corners: &given})
			require.NoError(t, err)
			require.False(t, res.Found)
			require.Equal(t, 2, res.Quarters)
			require.Empty(t, res.Cautions)
			requireRecovered(t, s, res, 1, 2.5)
		})
	}
}

// People point at what looks like a corner to them.
func TestReadByOtherCorners(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	s := scene(t, c)
	shot, pic := take(t, s)
	for name, places := range map[string][4]layout.Point{
		"the chart's own":      layout.Area{Size: c.Size}.Corners(),
		"middles of the marks": {c.MarkAreas()[0].Centre, c.MarkAreas()[1].Centre, c.MarkAreas()[2].Centre, c.MarkAreas()[3].Centre},
	} {
		t.Run(name, func(t *testing.T) {
			var given [4]layout.PicturePoint
			for i, p := range places {
				given[i] = shot.ToPixel(p)
			}
			res, err := photo.Read(context.Background(), pic, c, photo.Options{Corners: &given})
			require.NoError(t, err)
			for i, want := range shot.Corners {
				require.InDelta(t, want.X, res.Corners[i].X, 1)
				require.InDelta(t, want.Y, res.Corners[i].Y, 1)
			}
			requireRecovered(t, s, res, 1, 2.5)
		})
	}
}

func TestReadCautionsOnCornersWithoutMarks(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	s := scene(t, c)
	shot, pic := take(t, s)
	given := shot.Corners
	given[1].X, given[2].X = given[1].X+80, given[2].X+80
	res, err := photo.Read(context.Background(), pic, c, photo.Options{Corners: &given})
	require.NoError(t, err)
	require.Contains(t, res.Cautions, "the marks are not seen at the corners that were given: check them")
}

// A chart whose file says no more than it must: no marks' size, no fields, no
// stack, no machine.
func TestReadAPlainChart(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	s := scene(t, c)
	shot, pic := take(t, s)
	c.MarkSide, c.References, c.Machine, c.Stack, c.MarkSetting = 0, nil, nil, nil, nil
	for i := range shot.Corners { // nobody clicks to the pixel
		shot.Corners[i].X += 4 * math.Cos(float64(i))
	}
	m, top := machine(), stack(t).Coats[0].Colour
	res, err := photo.Read(context.Background(), pic, c, photo.Options{Corners: &shot.Corners, Machine: &m, TopCoat: &top})
	require.NoError(t, err)
	requireRecovered(t, s, res, 1, 2.5)
	require.Equal(t, 5.0, res.Readings.Swatches[0].OpticalPowerW)
}

func TestReadByAWhitePaper(t *testing.T) {
	c := chart(t, powers(2, 60, 2))
	s := scene(t, c)
	s.FallOff, s.Exposure = 0.15, 0.8
	s.Paper = image.Rect(720, 24, 880, 88)
	_, pic := take(t, s)
	white := s.Paper.Inset(10)
	res, err := photo.Read(context.Background(), pic, c, photo.Options{White: &white})
	require.NoError(t, err)
	require.Empty(t, res.Cautions)
	requireRecovered(t, s, res, 1.5, 3) // the light beyond the chart is not known

	c.Stack.Coats[0].Colour = colour.Stored{R: 0x60, G: 0x20, B: 0x20}
	res, err = photo.Read(context.Background(), pic, c, photo.Options{White: &white})
	require.NoError(t, err)
	require.Contains(t, res.Cautions[0], "by the white paper the top coat is #")
}
