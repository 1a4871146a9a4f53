package swatch

import "undercoat/layout"

// LineAreas are the rows of dots that the lines of a swatch of a line chart are
// burned as, from the top: each one pitch high and as long as the swatch. The
// lines that come of them are as wide as the beam makes them.
func (c Chart) LineAreas(s Swatch) ([]layout.Area, error) {
	pitch := s.Setting.Pitch
	grid, err := layout.Area{Size: c.Size}.Grid(pitch)
	if err != nil {
		return nil, err
	}
	lines := c
	lines.Kind = Lines
	var all []layout.Area
	for _, r := range lines.burned(s, grid) {
		all = append(all, layout.Area{
			Centre: layout.Point{
				X: pitch * layout.MM(r.Min.X+r.Max.X-grid.Cols) / 2,
				Y: pitch * layout.MM(grid.Rows-r.Min.Y-r.Max.Y) / 2,
			},
			Size: layout.Size{W: pitch * layout.MM(r.Dx()), H: pitch * layout.MM(r.Dy())},
		})
	}
	return all, nil
}

// IsLine tells whether a reading is the width of a line.
func (s Reading) IsLine() bool { return s.Width > 0 }
