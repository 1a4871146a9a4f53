package swatch

import (
	"context"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// Screen turns tints, in 1/65535 the wanted share of burned dots, into dots.
type Screen func(ctx context.Context, tints *plane.Grey16) (*plane.Bits, error)

// Raster is what the machine burns at one setting. Dots is set, or for eight bits
// Shares: the share of the setting's light for each dot, in 1/65535, a multiple of
// 257.
type Raster struct {
	RasterFile
	Dots   *plane.Bits
	Shares *plane.Grey16
}

// Raster makes one of the chart's rasters, i from 0. All of one pitch have the same
// number of dots, so that they line up when each is centred on the same spot. A
// tint row needs a screen; others may have nil.
func (c Chart) Raster(ctx context.Context, i int, screen Screen) (Raster, error) {
	if i < 0 || i >= len(c.Rasters) {
		return Raster{}, fmt.Errorf("raster %d is not one of the chart's %d: count from 0", i, len(c.Rasters))
	}
	file := c.Rasters[i]
	grid, err := layout.Area{Size: c.Size}.Grid(file.Setting.Pitch)
	if err != nil {
		return Raster{}, fmt.Errorf("chart: %w", err)
	}
	if file.EightBit {
		return c.eightBit(ctx, file, grid)
	}
	dots := plane.NewBits(grid.Cols, grid.Rows)
	for _, s := range c.Swatches {
		if err := ctx.Err(); err != nil {
			return Raster{}, err
		}
		if s.Setting != file.Setting {
			continue
		}
		if err := c.burnSwatch(ctx, s, grid, dots, screen); err != nil {
			return Raster{}, fmt.Errorf("swatch %s: %w", s.ID, err)
		}
	}
	if c.MarkSetting != nil && *c.MarkSetting == file.Setting {
		c.eachMarkDot(grid, dots.Set)
	}
	return Raster{RasterFile: file, Dots: dots}, nil
}

func (c Chart) eightBit(ctx context.Context, file RasterFile, grid layout.Grid) (Raster, error) {
	if c.Machine == nil {
		return Raster{}, fmt.Errorf("a chart with a power for each dot needs its machine: add it to the chart's file")
	}
	value := func(powerPercent float64) uint16 {
		return uint16(math.Round(255*min(1, shareOf(*c.Machine, powerPercent, file.Setting.PowerPercent)))) * 257
	}
	shares := plane.NewGrey16(grid.Cols, grid.Rows)
	for _, s := range c.Swatches {
		if err := ctx.Err(); err != nil {
			return Raster{}, err
		}
		v := value(s.Setting.PowerPercent)
		for _, r := range c.burned(s, grid) {
			eachDot(r, func(x, y int) { shares.Pix[y*shares.W+x] = v })
		}
	}
	if c.MarkSetting != nil {
		v := value(c.MarkSetting.PowerPercent)
		c.eachMarkDot(grid, func(x, y int) { shares.Pix[y*shares.W+x] = v })
	}
	return Raster{RasterFile: file, Shares: shares}, nil
}

func (c Chart) burnSwatch(ctx context.Context, s Swatch, grid layout.Grid, dots *plane.Bits, screen Screen) error {
	for _, r := range c.burned(s, grid) {
		if s.Tint == 0 {
			eachDot(r, dots.Set)
			continue
		}
		if screen == nil {
			return fmt.Errorf("a tint needs a screen: choose one")
		}
		tints := plane.NewGrey16(r.Dx(), r.Dy())
		for i := range tints.Pix {
			tints.Pix[i] = uint16(math.Round(s.Tint * 65535))
		}
		screened, err := screen(ctx, tints)
		if err != nil {
			return err
		}
		if screened.W != r.Dx() || screened.H != r.Dy() {
			return fmt.Errorf("the screen made %d x %d dots of %d x %d", screened.W, screened.H, r.Dx(), r.Dy())
		}
		eachDot(r, func(x, y int) {
			if screened.At(x-r.Min.X, y-r.Min.Y) {
				dots.Set(x, y)
			}
		})
	}
	return nil
}

// linesApart is the share of a swatch's side between the lines of a line chart:
// three of them, so that one may be spoilt.
const linesApart = 0.25

// burned are the rectangles of dots of a swatch.
func (c Chart) burned(s Swatch, grid layout.Grid) []image.Rectangle {
	all := dotsIn(s.Area(), grid)
	if c.Kind != Lines {
		return []image.Rectangle{all}
	}
	var lines []image.Rectangle
	middle := (all.Min.Y + all.Max.Y) / 2
	apart := int(math.Round(linesApart * float64(all.Dy())))
	for _, y := range []int{middle - apart, middle, middle + apart} {
		lines = append(lines, image.Rect(all.Min.X, y, all.Max.X, y+1))
	}
	return lines
}

// eachMarkDot visits the dots of the marks and the labels.
func (c Chart) eachMarkDot(grid layout.Grid, visit func(x, y int)) {
	if c.MarkSide > 0 {
		c.EachMarkDot(grid, visit)
	}
	least := 2 * c.MarkSetting.Pitch
	if c.Machine != nil {
		least = max(least, c.Machine.BeamAlong, c.Machine.BeamAcross)
	}
	for _, s := range c.Swatches {
		for _, module := range c.label(s, least) {
			eachDot(dotsIn(module, grid), visit)
		}
	}
}

// dotsIn is the dots whose middles lie in an area of a chart, the left and the
// upper edge included.
func dotsIn(a layout.Area, grid layout.Grid) image.Rectangle {
	from := func(mm layout.MM, dots int) int {
		const rounding = 1e-6
		return int(math.Ceil(float64(mm/grid.Pitch) + float64(dots)/2 - 0.5 - rounding))
	}
	corners := a.Corners()
	r := image.Rect(
		from(corners[0].X, grid.Cols), from(-corners[0].Y, grid.Rows),
		from(corners[2].X, grid.Cols), from(-corners[2].Y, grid.Rows),
	)
	return r.Intersect(image.Rect(0, 0, grid.Cols, grid.Rows))
}

func eachDot(r image.Rectangle, visit func(x, y int)) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			visit(x, y)
		}
	}
}
