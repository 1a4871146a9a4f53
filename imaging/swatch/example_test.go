package swatch_test

import (
	"fmt"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// A chart of twelve powers on a scrap of a postcard's size.
func ExampleNew() {
	powers, _ := swatch.ParsePowers("5:60:5")
	chart, err := swatch.New(swatch.Request{
		Machine: burn.Machine{
			Name: "small", OpticalPowerW: 5, BeamAlong: 0.08, BeamAcross: 0.1, Bed: layout.Size{W: 400, H: 400},
			RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100,
		},
		Scrap: layout.Size{W: 120, H: 90}, Margin: 3,
		Powers: powers, Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.08},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(chart.Swatches), "swatches in", len(chart.Rasters), "rasters of", layout.Millimetre.FormatSize(chart.Size))
	fmt.Println("burned first:", chart.Rasters[0].Setting.PowerPercent, "%")
	// Output:
	// 12 swatches in 12 rasters of 75 x 46 mm
	// burned first: 5 %
}

func ExampleParsePowers() {
	powers, err := swatch.ParsePowers("10,20,40:60:10")
	fmt.Println(powers, err)
	_, err = swatch.ParsePowers("0:60:5")
	fmt.Println(err)
	// Output:
	// [10 20 40 50 60] <nil>
	// powers "0:60:5": "0" is not above 0 and up to 100 %: write, for instance, 5:60:5 or 10,20,30
}

// What an eye says of a swatch is a range of shares.
func ExampleParseSeen() {
	stack := coat.Stack{
		Coats:  []coat.Coat{{Name: "graphite", Colour: colour.Stored{R: 43, G: 45, B: 48}, ThicknessUM: 25}, {Name: "teal", ThicknessUM: 25}},
		Ground: coat.Ground{Name: "white"},
	}
	seen, err := swatch.ParseSeen("mostly teal", stack)
	if err != nil {
		fmt.Println(err)
		return
	}
	low, high := seen.Share(1)
	fmt.Printf("teal shows on %.0f to %.0f %%\n", 100*low, 100*high)
	// Output:
	// teal shows on 50 to 85 %
}
