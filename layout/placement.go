package layout

// Placement is where a raster goes on its panel.
type Placement struct {
	Panel   Panel
	Border  Border // as asked
	Area    Area   // the panel less that border
	Grid    Grid
	Centre  Point    // the raster's, from the panel's centre
	Corners [4]Point // the raster's: upper left, upper right, lower right, lower left
	Left    Border   // what is left of the border beside the raster's whole dots
}

// Place centres a raster of whole dots in the picture area. The raster comes out
// up to half a pitch larger or smaller than the area each way, so that Left can
// differ from Border by a quarter of a pitch a side; only an area smaller than
// one pitch is exceeded by more.
func Place(p Panel, b Border, pitch MM) (Placement, error) {
	area, err := p.PictureArea(b)
	if err != nil {
		return Placement{}, err
	}
	grid, err := area.Grid(pitch)
	if err != nil {
		return Placement{}, err
	}
	raster := Area{Centre: area.Centre, Size: grid.Size()}
	spareX, spareY := (area.Size.W-raster.Size.W)/2, (area.Size.H-raster.Size.H)/2
	return Placement{
		Panel:   p,
		Border:  b,
		Area:    area,
		Grid:    grid,
		Centre:  raster.Centre,
		Corners: raster.Corners(),
		Left:    Border{b.Left + spareX, b.Right + spareX, b.Top + spareY, b.Bottom + spareY},
	}, nil
}
