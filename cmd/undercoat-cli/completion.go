package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/imaging/screen"
)

func newCompletion() *cobra.Command {
	return &cobra.Command{
		Use:   "completion bash | zsh | fish",
		Short: "Print a script that completes verbs, options and names in a shell",
		Long: "Completion prints a script for your shell; with it, the tab key completes verbs and\n" +
			"options, and the names of stacks, machines, panels and screens.\n\n" +
			"bash, for this session:     source <(undercoat-cli completion bash)\n" +
			"zsh, for good:              undercoat-cli completion zsh > \"${fpath[1]}/_undercoat-cli\"\n" +
			"fish, for good:             undercoat-cli completion fish > ~/.config/fish/completions/undercoat-cli.fish",
		Example:   "  undercoat-cli completion bash",
		ValidArgs: []string{"bash", "zsh", "fish"},
		Args:      exactly(1, "the name of one shell"),
		RunE: func(cmd *cobra.Command, args []string) error {
			out := cmd.OutOrStdout()
			switch args[0] {
			case "bash":
				return cmd.Root().GenBashCompletionV2(out, true)
			case "zsh":
				return cmd.Root().GenZshCompletion(out)
			case "fish":
				return cmd.Root().GenFishCompletion(out, true)
			}
			return usageError{fmt.Errorf("shell %q is not known: choose bash, zsh or fish", args[0])}
		},
	}
}

// complete lets a shell ask for the values of options that take a name, whichever
// verb has them.
func complete(root *cobra.Command) {
	entries := map[string]library.Kind{"stack": library.Stack, "stacks": library.Stack, "machine": library.Machine, "panel": library.Panel, "rates": library.Rates}
	words := map[string][]string{"match": words(job.Matches()), "screen": words(screen.Kinds()), "unit": {"mm", "cm", "in"}, "kind": nil}
	for _, cmd := range append([]*cobra.Command{}, root.Commands()...) {
		complete(cmd)
		for option, kind := range entries {
			if cmd.Flag(option) != nil {
				_ = cmd.RegisterFlagCompletionFunc(option, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
					return library.Open().Names(kind), cobra.ShellCompDirectiveDefault // a file will do, too
				})
			}
		}
		for option, list := range words {
			if cmd.Flag(option) != nil && list != nil {
				_ = cmd.RegisterFlagCompletionFunc(option, cobra.FixedCompletions(list, cobra.ShellCompDirectiveNoFileComp))
			}
		}
	}
}

// words are names as plain text.
func words[T ~string](names []T) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = string(n)
	}
	return out
}
