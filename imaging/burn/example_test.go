package burn_test

import (
	"context"
	"fmt"
	"image"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// small is a machine of 5 W with a round beam.
var small = burn.Machine{
	Name: "small", OpticalPowerW: 5, BeamAlong: 0.1, BeamAcross: 0.1, Bed: layout.Size{W: 400, H: 400},
	RunUp: 5, AccelerationMMPerS2: 500, TopSpeed: 100,
}

// 5 W at 30 %, 1500 mm/min and 0.1 mm.
func ExampleDose() {
	setting := burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.1, Passes: 1}
	fmt.Printf("%.0f J/cm2\n", burn.Dose(small, setting, 1))
	// Output: 60 J/cm2
}

func ExampleEqualDose() {
	setting := burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.1, Passes: 1}
	power, err := burn.EqualDose(small, setting, 50, 0.1)
	fmt.Printf("%.0f %% at twice the speed, %v\n", power, err)
	_, err = burn.EqualDose(small, setting, 100, 0.1)
	fmt.Println(err)
	// Output:
	// 60 % at twice the speed, <nil>
	// 6000 mm/min at 0.1 mm pitch needs 6 W of light and the machine has 5 W: choose a lower speed or a finer pitch
}

// A beam as wide as the pitch leaves lines.
func ExampleRipple() {
	low, high, err := burn.Ripple(small, 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f to %.2f times the mean\n", low, high)
	// Output: 0.43 to 1.60 times the mean
}

// A single burned dot, its neighbour, and the one after, at one sample a dot. Of the
// 60 J/cm2 that the setting gives a fully burned field, some goes astray.
func ExampleExpose() {
	dots := plane.NewBits(5, 1)
	dots.Set(2, 0)
	setting := burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.1, Passes: 1}
	err := burn.Expose(context.Background(), small, setting, 1, burn.OneBit(dots), image.Rect(2, 0, 5, 1), 1,
		func(_ int, doses []float32) error {
			for _, dose := range doses {
				fmt.Printf("%.2f J/cm2\n", dose)
			}
			return nil
		})
	if err != nil {
		fmt.Println(err)
	}
	// Output:
	// 54.66 J/cm2
	// 1.30 J/cm2
	// 0.00 J/cm2
}
