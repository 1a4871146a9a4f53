package main

import (
	"github.com/spf13/cobra"

	"undercoat/imaging/job"
)

func newSchema() *cobra.Command {
	return &cobra.Command{
		Use:     "schema",
		Short:   "Print the JSON Schema of a job's document",
		Long:    "Schema prints a JSON Schema, draft 2020-12, of job.json: the document in a job's file, which\nis a zip that also holds the picture.",
		Example: "  undercoat-cli schema",
		Args:    exactly(0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := cmd.OutOrStdout().Write(job.Schema())
			return err
		},
	}
}
