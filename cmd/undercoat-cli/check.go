package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
)

func newCheck() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "check JOB.undercoat",
		Short:   "Check a job without preparing it: size, fit, time, cautions",
		Long:    "Check reads a job, looks at its picture, and says what its raster will be, whether\nit fits the machine, how long it burns at most, and what to beware of. It writes nothing.",
		Example: "  undercoat-cli check boat.undercoat",
		Args:    exactly(1, "one job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			j, err := job.Read(args[0])
			if err != nil {
				return err
			}
			note, err := job.Check(cmd.Context(), j)
			if err != nil {
				return err
			}
			if asJSON {
				data, err := note.JSON()
				if err != nil {
					return err
				}
				_, err = cmd.OutOrStdout().Write(data)
				return err
			}
			fmt.Fprint(cmd.OutOrStdout(), note.Text(j.Document.UnitOf()))
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the placement as JSON")
	return cmd
}
