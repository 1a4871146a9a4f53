package swatch

import (
	"fmt"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/strict"
	"undercoat/layout"
)

type swatchFile struct {
	ID     string       `json:"id"`
	Centre layout.Point `json:"centre_mm"`
	Size   layout.Size  `json:"size_mm"`
	settingFields
	Tint float64 `json:"tint,omitempty"`
}

type rasterFile struct {
	File string `json:"file"`
	settingFields
	EightBit bool `json:"eight_bit,omitempty"`
}

type areaFile struct {
	Centre layout.Point `json:"centre_mm"`
	Size   layout.Size  `json:"size_mm"`
}

type chartFile struct {
	Kind        string         `json:"kind"`
	Version     int            `json:"version"`
	ChartKind   Kind           `json:"chart_kind,omitempty"`
	Size        layout.Size    `json:"size_mm"`
	Marks       []layout.Point `json:"marks_mm"`
	MarkSide    layout.MM      `json:"mark_side_mm,omitempty"`
	MarkSetting *settingFields `json:"mark_setting,omitempty"`
	Swatches    []swatchFile   `json:"swatches"`
	References  []areaFile     `json:"references,omitempty"`
	Rasters     []rasterFile   `json:"rasters,omitempty"`
	Machine     *burn.Machine  `json:"machine,omitempty"`
	Stack       *coat.Stack    `json:"stack,omitempty"`
}

// ReadChart reads a chart file. Fields that it does not know and values out of
// range are refused by their path in the file.
func ReadChart(data []byte) (Chart, error) {
	var f chartFile
	if err := strict.Decode(data, &f); err != nil {
		return Chart{}, fmt.Errorf("chart file: %w", err)
	}
	if f.Kind != ChartKind {
		return Chart{}, fmt.Errorf("chart file: kind is %q: choose a file whose kind is %q", f.Kind, ChartKind)
	}
	if f.Version != ChartVersion {
		return Chart{}, fmt.Errorf("chart file: version is %d: this program reads version %d, a newer one may read the file", f.Version, ChartVersion)
	}
	if len(f.Marks) != 4 {
		return Chart{}, fmt.Errorf("chart file: marks_mm holds %d corners: give 4: upper left, upper right, lower right, lower left", len(f.Marks))
	}
	c := f.chart()
	if err := c.Validate(); err != nil {
		return Chart{}, fmt.Errorf("chart file: %w", err)
	}
	return c, nil
}

// JSON is the chart as a file: indented, with a fixed order of fields, ending in a
// newline. The same chart always gives the same bytes.
func (c Chart) JSON() ([]byte, error) {
	if err := c.Validate(); err != nil {
		return nil, fmt.Errorf("chart: %w", err)
	}
	return indented(c.file())
}

func (f chartFile) chart() Chart {
	c := Chart{
		Kind: f.ChartKind, Size: f.Size, Marks: [4]layout.Point(f.Marks), MarkSide: f.MarkSide,
		Machine: f.Machine, Stack: f.Stack,
	}
	if f.MarkSetting != nil {
		s := f.MarkSetting.setting()
		c.MarkSetting = &s
	}
	for _, s := range f.Swatches {
		c.Swatches = append(c.Swatches, Swatch{ID: s.ID, Centre: s.Centre, Size: s.Size, Setting: s.setting(), Tint: s.Tint})
	}
	for _, a := range f.References {
		c.References = append(c.References, layout.Area(a))
	}
	for _, r := range f.Rasters {
		c.Rasters = append(c.Rasters, RasterFile{File: r.File, Setting: r.setting(), EightBit: r.EightBit})
	}
	return c
}

func (c Chart) file() chartFile {
	f := chartFile{
		Kind: ChartKind, Version: ChartVersion, ChartKind: c.Kind, Size: c.Size, Marks: c.Marks[:], MarkSide: c.MarkSide,
		Machine: c.Machine, Stack: c.Stack,
	}
	if c.Stack != nil {
		s := c.Stack.Clone()
		s.Kind, s.Version = coat.Kind, coat.Version
		f.Stack = &s
	}
	if c.MarkSetting != nil {
		s := fieldsOf(*c.MarkSetting)
		f.MarkSetting = &s
	}
	for _, s := range c.Swatches {
		f.Swatches = append(f.Swatches, swatchFile{s.ID, s.Centre, s.Size, fieldsOf(s.Setting), s.Tint})
	}
	for _, a := range c.References {
		f.References = append(f.References, areaFile(a))
	}
	for _, r := range c.Rasters {
		f.Rasters = append(f.Rasters, rasterFile{r.File, fieldsOf(r.Setting), r.EightBit})
	}
	return f
}
