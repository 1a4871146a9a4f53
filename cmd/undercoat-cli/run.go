package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"undercoat/imaging/export"
)

// The exit codes, as the package's doc describes them.
const (
	exitDone        = 0
	exitUsage       = 2
	exitInput       = 3
	exitWrite       = 4
	exitInterrupted = 130
)

// usageError is a command line that does not make sense, whatever the files
// hold.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// run carries out one command line and gives its exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitDone
	}
	code := exitCode(err)
	if code == exitInterrupted {
		fmt.Fprintln(stderr, "undercoat-cli: interrupted, nothing was written")
		return code
	}
	fmt.Fprintf(stderr, "undercoat-cli: %v\n", err)
	return code
}

func exitCode(err error) int {
	var usage usageError
	var write *export.WriteError
	switch {
	case errors.Is(err, context.Canceled):
		return exitInterrupted
	case errors.As(err, &usage):
		return exitUsage
	case errors.As(err, &write):
		return exitWrite
	}
	return exitInput
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:           "undercoat-cli VERB",
		Short:         "Do an Undercoat job without a window",
		Long:          "Undercoat-cli takes a picture to a panel: it makes job files, prepares them for\nthe machine, and predicts what a setting will uncover. It never drives a machine.",
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return usageError{fmt.Errorf("there is no verb %q: see undercoat-cli --help", args[0])}
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usageError{fmt.Errorf("%w: see %s --help", err, cmd.CommandPath())}
	})
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(newDemo(), newNew(), newPrepare(), newPredict(), newCheck(),
		newProof(), newStrip(), newExpose())
	return root
}

// exactly asks for n positional arguments, which the message calls by name.
func exactly(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != n {
			return usageError{fmt.Errorf("%s takes %s and got %d arguments: see %s --help", cmd.Name(), what, len(args), cmd.CommandPath())}
		}
		return nil
	}
}

// needed complains about a flag that was left out.
func needed(cmd *cobra.Command, names ...string) error {
	for _, name := range names {
		if !cmd.Flags().Changed(name) {
			return usageError{fmt.Errorf("--%s is missing: see %s --help", name, cmd.CommandPath())}
		}
	}
	return nil
}
