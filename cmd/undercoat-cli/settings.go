package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/layout"
)

// settingFlags are the flags that every verb with a stack, a machine and a
// setting shares. Their values are read by resolve, so that a wrong value is
// bad input and not wrong usage.
type settingFlags struct {
	stack, machine      string
	power, speed, pitch string
	passes              int
}

func (f *settingFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.stack, "stack", "", "stack: a starter entry's name or a JSON file (default: the first starter entry)")
	cmd.Flags().StringVar(&f.machine, "machine", "", "machine: a starter entry's name or a JSON file (default: the first starter entry)")
	cmd.Flags().StringVar(&f.power, "power", "30", "power in percent of the machine's scale")
	cmd.Flags().StringVar(&f.speed, "speed", "1500mm/min", "speed, as 1500mm/min or 25mm/s")
	cmd.Flags().StringVar(&f.pitch, "pitch", "0.08mm", "distance of dots and lines, as 0.08mm or 318dpi")
	cmd.Flags().IntVar(&f.passes, "passes", 1, "how often each line is burned")
}

// resolve reads the stack, the machine and the setting.
func (f *settingFlags) resolve() (coat.Stack, burn.Machine, burn.Setting, error) {
	var none burn.Setting
	stack, err := job.FindStack(f.stack)
	if err != nil {
		return stack, burn.Machine{}, none, err
	}
	machine, err := job.FindMachine(f.machine)
	if err != nil {
		return stack, machine, none, err
	}
	setting, err := f.setting()
	if err != nil {
		return stack, machine, none, err
	}
	return stack, machine, setting, setting.Validate(machine)
}

func (f *settingFlags) setting() (burn.Setting, error) {
	power, err := parsePercent(f.power)
	if err != nil {
		return burn.Setting{}, fmt.Errorf("power: %w", err)
	}
	speed, err := layout.ParseSpeed(f.speed)
	if err != nil {
		return burn.Setting{}, err // it begins with the word speed
	}
	pitch, err := layout.ParsePitch(f.pitch)
	if err != nil {
		return burn.Setting{}, err // it begins with the word pitch
	}
	return burn.Setting{PowerPercent: power, Speed: speed, Pitch: pitch, Passes: f.passes}, nil
}

// parsePercent reads "30" or "30 %".
func parsePercent(text string) (float64, error) {
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is not a share in percent: write, for instance, 30", text)
	}
	return v, nil
}
