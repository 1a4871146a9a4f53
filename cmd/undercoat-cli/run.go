package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"undercoat/cmd/internal/build"
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
	out := &output{w: stdout}
	root.SetOut(out)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	if out.err != nil {
		fmt.Fprintf(stderr, "undercoat-cli: standard output cannot be written (%v): send it elsewhere\n", out.err)
		return exitWrite
	}
	if err == nil {
		return exitDone
	}
	code := exitCode(err)
	if code == exitInterrupted {
		what := "nothing was written"
		var stopped stoppedError
		if errors.As(err, &stopped) {
			what = stopped.what
		}
		fmt.Fprintln(stderr, "undercoat-cli: interrupted, "+what)
		return code
	}
	how := ""
	if errors.Is(err, fs.ErrExist) {
		how = " with --force"
	}
	fmt.Fprintf(stderr, "undercoat-cli: %v%s\n", err, how)
	return code
}

// output remembers the first error of standard output, so that a full disk at its
// other end does not pass for success.
type output struct {
	w   io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.w.Write(p)
	if o.err == nil && err != nil {
		o.err = err
		var path *fs.PathError
		if errors.As(err, &path) {
			o.err = path.Err
		}
	}
	return n, err
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
		Use:           "undercoat-cli",
		Short:         "Do an Undercoat job without a window",
		Long:          "Undercoat-cli takes a picture to a panel: it makes job files, prepares them for\nthe machine, and predicts what a setting will uncover. It never drives a machine.",
		SilenceErrors: true,
		SilenceUsage:  true,

		DisableFlagsInUseLine: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return noVerb(args[0])
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		if number := new(strconv.NumError); errors.As(err, &number) {
			what, _, _ := strings.Cut(err.Error(), ": strconv.")
			err = fmt.Errorf("%s: write a whole number", what)
		}
		return usageError{fmt.Errorf("%w: see %s --help", err, cmd.CommandPath())}
	})
	root.CompletionOptions.DisableDefaultCmd = true // newCompletion has our own words
	root.Version = build.Line()
	root.SetVersionTemplate("{{.Name}} {{.Version}}\n")
	root.PersistentPreRun = func(cmd *cobra.Command, _ []string) {
		if cmd.Flag("stack") != nil || cmd.Flag("machine") != nil {
			nameBroken(cmd) // whoever chooses an entry hears of those that are passed over
		}
	}
	root.SetHelpCommand(newHelp())
	root.SetUsageTemplate(strings.NewReplacer("Available Commands", "Verbs", "[command]", "VERB", "a command", "a verb").Replace(root.UsageTemplate()))
	root.AddCommand(newDemo(), newNew(), newPrepare(), newPredict(), newCheck(),
		newProof(), newStrip(), newExpose(),
		newTrial(), newWall(),
		newChart(), newRead(), newFit(), newCompare(),
		newLibrary(), newBatch(), newSchema(), newCompletion(), newMan())
	complete(root)
	return root
}

func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help [VERB]",
		Short: "Say how a verb is used",
		RunE: func(cmd *cobra.Command, args []string) error {
			verb, rest, err := cmd.Root().Find(args)
			switch {
			case len(rest) > 0:
				return noVerb(rest[0])
			case err != nil:
				return noVerb(args[0])
			}
			return verb.Help()
		},
	}
}

func noVerb(name string) error {
	return usageError{fmt.Errorf("there is no verb %q: see undercoat-cli --help", name)}
}

// exactly asks for n positional arguments, which the message calls by name.
func exactly(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != n {
			got := "none"
			if len(args) > 0 {
				got = fmt.Sprintf("%q", args)
			}
			return usageError{fmt.Errorf("%s takes %s and got %s: see %s --help", cmd.Name(), what, got, cmd.CommandPath())}
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
		if cmd.Flag(name).Value.String() == "" {
			return usageError{fmt.Errorf("--%s is empty: see %s --help", name, cmd.CommandPath())}
		}
	}
	return nil
}
