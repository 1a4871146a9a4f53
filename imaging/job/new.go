package job

import (
	"context"

	"undercoat/assets"
	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/library"
	"undercoat/imaging/picture"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// Blank is a document with no picture yet: the stack and the machine given, on
// a board of 300 x 400 mm, with the settings of the built-in demo.
func Blank(stack coat.Stack, machine burn.Machine) Document {
	return Document{
		Kind:    Kind,
		Version: Version,
		Name:    "job",
		Unit:    layout.Millimetre.String(),
		Panel:   layout.Panel{Kind: layout.Board, Size: layout.Size{W: 300, H: 400}, EdgeDepth: 6},
		Border:  layout.Even(assets.DemoBorderMM),
		Picture: Picture{
			UnderClear: colour.Stored{R: 255, G: 255, B: 255},
			Burns:      BurnsByStack,
			Tones:      TonesEven,
		},
		Stack:   stack,
		Machine: machine,
		Setting: burn.Setting{
			PowerPercent: assets.DemoPowerPercent,
			Speed:        assets.DemoSpeedMMPerMin / 60,
			Pitch:        assets.DemoPitchMM,
			Passes:       assets.DemoPasses,
		},
		Match:  MatchLightness,
		Screen: Screen{Kind: screen.FloydSteinberg},
	}
}

// New makes the job of a picture: d with the picture called name in it, cropped
// to the picture area's shape. It also gives the decoded picture back.
func New(ctx context.Context, d Document, name string, data []byte) (*Job, *picture.Picture, error) {
	pic, err := OpenPicture(ctx, name, data)
	if err != nil {
		return nil, nil, err
	}
	if d, err = d.WithPicture(name, data, pic); err != nil {
		return nil, nil, err
	}
	if err := d.Validate(); err != nil {
		return nil, nil, err
	}
	return &Job{Document: d, Picture: data}, pic, nil
}

// Demo is the built-in job: a lighthouse at dusk on a birch board.
func Demo(ctx context.Context) (*Job, *picture.Picture, error) {
	var starters library.Library // whatever the user calls entries of their own
	stack, err := starters.Stack(assets.DemoStack)
	if err != nil {
		return nil, nil, err
	}
	machine, err := starters.Machine(assets.DemoMachine)
	if err != nil {
		return nil, nil, err
	}
	panel, err := starters.Panel(assets.DemoPanel)
	if err != nil {
		return nil, nil, err
	}
	d := Blank(stack, machine)
	d.Name, d.Panel = "lighthouse", panel.Panel
	return New(ctx, d, assets.DemoPictureName, assets.DemoPicture())
}
