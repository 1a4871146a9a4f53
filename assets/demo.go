package assets

import (
	_ "embed" // for the picture
	"slices"
)

// The demo job: a birch board in three coats over white, burned with a 10 W machine.
// At this power, speed and pitch a full burn gets 150 J/cm2, which lays the
// ground bare, and the whole burn takes about a working day.
const (
	DemoStack   = "graphite-teal-sunflower"
	DemoMachine = "diode-10w"
	DemoPanel   = "board-300x400"

	DemoBorderMM      = 6
	DemoPowerPercent  = 60
	DemoSpeedMMPerMin = 3000
	DemoPitchMM       = 0.08
	DemoPasses        = 1

	// DemoPictureName is the file name the demo picture goes by.
	DemoPictureName = "lighthouse-at-dusk.jpg"
)

//go:embed demo.jpg
var demoPicture []byte

// DemoPicture is a JPEG of 3072 x 4096 pixels, a lighthouse at dusk. It holds
// what shows the weaknesses of a screen: long gradients, lines of one and two
// pixels, small letters, fine textures, deep shadows and small bright lights.
func DemoPicture() []byte { return slices.Clone(demoPicture) }
