package layout_test

import (
	"fmt"

	"undercoat/layout"
)

// A 10 in canvas with a narrow border, burned at 318 dots per inch.
func ExamplePlace() {
	size, _ := layout.ParseSize("10in", layout.Millimetre)
	border, _ := layout.ParseBorder("0.075in", layout.Millimetre)
	pitch, _ := layout.ParsePitch("318dpi")

	placement, err := layout.Place(layout.Panel{Kind: layout.Canvas, Size: size}, border, pitch)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(placement.Grid.Cols, "x", placement.Grid.Rows, "dots")
	fmt.Println(layout.Millimetre.FormatSize(placement.Grid.Size()))
	fmt.Printf("upper left corner at %.3f, %.3f mm from the centre\n", placement.Corners[0].X, placement.Corners[0].Y)
	// Output:
	// 3132 x 3132 dots
	// 250.17 x 250.17 mm
	// upper left corner at -125.083, 125.083 mm from the centre
}

func ExampleParseLength() {
	for _, text := range []string{"11 3/4 in", `9.85"`, "25,4cm", "12", "3 m"} {
		length, err := layout.ParseLength(text, layout.Inches)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(layout.Millimetre.Format(length))
	}
	// Output:
	// 298.45 mm
	// 250.19 mm
	// 254 mm
	// 304.8 mm
	// length "3 m" has the unknown unit "m": write a length from 0 to 10000 mm such as 254 mm, 25.4 cm or 11 3/4 in
}

func ExamplePanel_PictureArea() {
	panel := layout.Panel{Kind: layout.Tile, Size: layout.Size{W: 300, H: 300}}
	_, err := panel.PictureArea(layout.Even(160))
	fmt.Println(err)
	// Output: border 160 mm left and 160 mm right leave nothing of a panel 300 mm wide: choose a smaller border
}

func ExampleMotion_RasterTime() {
	machine := layout.Motion{Speed: 50, AccelerationMMPerS2: 500, RunUp: 2.5}
	raster := layout.Grid{Cols: 2000, Rows: 1500, Pitch: 0.1}
	fmt.Println(layout.FormatDuration(machine.RasterTime(nil, raster)))
	// Output: 1 h 46 min
}

func ExampleReach_Fit() {
	panel := layout.Panel{Kind: layout.Board, Size: layout.Size{W: 300, H: 400}}
	place, err := layout.Place(panel, layout.Even(6), 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fit, err := layout.Reach{Bed: layout.Bed{W: 400, H: 400}, RunUp: 5}.Fit(place, layout.Cuts{})
	fmt.Println(fit.How, err)
	// Output: upright <nil>
}

func ExampleCrop_Zoomed() {
	crop := layout.LargestCrop(4000, 3000, 1)
	fmt.Println(crop)
	fmt.Println(crop.Zoomed(2, 2000, 1500, 4000, 3000))
	// Output:
	// 500,0,3000,3000
	// 1250,750,1500,1500
}
