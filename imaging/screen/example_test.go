package screen_test

import (
	"context"
	"fmt"

	"undercoat/imaging/plane"
	"undercoat/imaging/screen"
)

// A quarter of the dots burn of an even tint of a quarter.
func ExampleScreen() {
	tints := plane.NewGrey16(200, 200)
	for i := range tints.Pix {
		tints.Pix[i] = 65535 / 4
	}
	for _, kind := range []screen.Kind{screen.FloydSteinberg, screen.BlueNoise, screen.Clustered} {
		dots, err := screen.Screen(context.Background(), tints, screen.Options{Kind: kind})
		if err != nil {
			fmt.Println(err)
			return
		}
		burned := 0
		for y := range dots.H {
			for x := range dots.W {
				if dots.At(x, y) {
					burned++
				}
			}
		}
		fmt.Printf("%s: %.0f %%\n", kind, 100*float64(burned)/float64(len(tints.Pix)))
	}
	// Output:
	// floyd-steinberg: 25 %
	// blue-noise: 25 %
	// clustered: 25 %
}

// Row after row, for a raster that nobody holds whole.
func ExampleNew() {
	s, err := screen.New(16, screen.Options{Kind: screen.Bayer, Matrix: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	tints := make([]uint16, 16)
	for i := range tints {
		tints[i] = 65535 / 2
	}
	dots := make([]byte, 2)
	for range 2 {
		s.Row(tints, dots)
		fmt.Printf("%08b\n", dots)
	}
	// Output:
	// [10101010 10101010]
	// [01010101 01010101]
}

func ExampleDescribe() {
	fmt.Println(screen.Describe(screen.Threshold))
	// Output: no grey at all, all or nothing at half: for lettering and line art
}
