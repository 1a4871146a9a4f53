package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// workshopFlags are what sheets need to know beyond the job.
type workshopFlags struct {
	start, rights, rates, paper string
	canM2, lossPercent          float64
	heatGun                     bool
}

func (f *workshopFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.start, "start", "", `day and time at which the painting starts, as "2026-05-01 09:00": makes a timetable and a calendar`)
	flags.BoolVar(&f.heatGun, "heat-gun", false, "dry the coats with warm air, not in the open")
	flags.Float64Var(&f.canM2, "can-covers", 0, "square metres that a can covers with one coat (default: what sellers say)")
	flags.Float64Var(&f.lossPercent, "loss", 0, "percent of the paint that goes past the panel, up to 90 (default: the usual)")
	flags.StringVar(&f.rights, "rights", "", "who holds the rights in the picture, and where it comes from, for the sheets")
	flags.StringVar(&f.rates, "rates", "", "what you charge: rates of your library by name, or a JSON file; makes the client's sheet")
	flags.StringVar(&f.paper, "paper", "a4", "paper of the sheets: a4 or letter")
}

func (f *workshopFlags) read() (job.Workshop, error) {
	w := job.Workshop{Rights: f.rights, Can: layout.Can{CoversM2: f.canM2, Lost: f.lossPercent / 100}}
	if f.heatGun {
		w.Habits.Drying = layout.HeatGun
	}
	switch strings.ToLower(f.paper) {
	case "", "a4":
	case "letter":
		w.Letter = true
	default:
		return w, fmt.Errorf("paper %q is not known: choose a4 or letter", f.paper)
	}
	if f.start != "" {
		var err error
		if w.Start, err = job.ParseStart(f.start); err != nil {
			return w, err
		}
	}
	if f.rates != "" {
		rates, err := job.FindRates(f.rates)
		if err != nil {
			return w, err
		}
		w.Rates = &rates
	}
	return w, nil
}
