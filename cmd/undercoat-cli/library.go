package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"undercoat/imaging/job"
	"undercoat/imaging/library"
)

func newLibrary() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "library list | import | export | remove | defaults",
		Short: "Keep stacks, machines, panels and price rates under names",
		Long: "Library looks after the entries that other verbs call by name: your own, each a JSON file\n" +
			"in your configuration folder, and the starter entries that come with the program. An\n" +
			"entry of yours hides a starter of the same name.",
		Example: "  undercoat-cli library list\n" +
			"  undercoat-cli library export slate-cream -o slate.json\n" +
			"  undercoat-cli library import slate.json --name slate-on-birch\n" +
			"  undercoat-cli library defaults --machine diode-5w5 --unit cm\n" +
			"  undercoat-cli library remove slate-on-birch",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usageError{fmt.Errorf("library does not know %q: see undercoat-cli library --help", args[0])}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newLibraryList(), newLibraryImport(), newLibraryExport(), newLibraryRemove(), newLibraryDefaults())
	return cmd
}

// entryReport is an entry as --json lists it.
type entryReport struct {
	Kind    library.Kind `json:"kind"`
	Name    string       `json:"name"`
	Title   string       `json:"title,omitempty"`
	Starter bool         `json:"starter"`
	File    string       `json:"file,omitempty"`
	Fault   string       `json:"fault,omitempty"`
}

func newLibraryList() *cobra.Command {
	var kind string
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "list",
		Short:   "List the entries that can be named",
		Long:    "List shows your own entries and the starter entries. One that cannot be used is named on\nstandard error, with what is wrong with it.",
		Example: "  undercoat-cli library list --kind stack",
		Args:    exactly(0, "no arguments besides its flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			entries, err := library.Open().List()
			if err != nil {
				return err
			}
			if kind != "" {
				want, err := library.ParseKind(kind)
				if err != nil {
					return usageError{err}
				}
				var some []library.Entry
				for _, e := range entries {
					if e.Kind == want {
						some = append(some, e)
					}
				}
				entries = some
			}
			if asJSON {
				return printEntries(cmd.OutOrStdout(), entries)
			}
			for _, e := range entries {
				own := "own    "
				if e.Starter {
					own = "starter"
				}
				if e.Err == nil {
					fmt.Fprintf(cmd.OutOrStdout(), "%-8s %s  %-26s %s\n", e.Kind, own, e.Name, e.Title)
				}
			}
			nameBroken(cmd)
			return nil
		},
	}
	cmd.Flags().StringVar(&kind, "kind", "", "only entries of this kind: stack, machine, panel, rates or readings")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object, with the broken entries in it")
	return cmd
}

func printEntries(w io.Writer, entries []library.Entry) error {
	report := struct {
		Entries []entryReport `json:"entries"`
	}{Entries: []entryReport{}}
	for _, e := range entries {
		r := entryReport{Kind: e.Kind, Name: e.Name, Title: e.Title, Starter: e.Starter, File: e.File}
		if e.Err != nil {
			r.Fault = e.Err.Error()
		}
		report.Entries = append(report.Entries, r)
	}
	return json.NewEncoder(w).Encode(report)
}

// nameBroken says which entries of the library are passed over, and why.
func nameBroken(cmd *cobra.Command) {
	for _, e := range library.Open().Broken() {
		fmt.Fprintf(cmd.ErrOrStderr(), "passed over %s: %v\n", e.File, e.Err)
	}
}

func newLibraryImport() *cobra.Command {
	var name string
	var replace bool
	cmd := &cobra.Command{
		Use:   "import FILE.json...",
		Short: "Keep entries from files",
		Long: "Import keeps stacks, machines, panels, rates or the readings of charts from JSON files,\n" +
			"each under the name of its file.",
		Example: "  undercoat-cli library import slate.json",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return exactly(1, "one file or more")(cmd, args)
			}
			if name != "" && len(args) > 1 {
				return usageError{errors.New("--name is for one file: import them one by one")}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, path := range args {
				data, err := readFile(cmd, path)
				if err != nil {
					return err
				}
				called := name
				if called == "" && path == standard {
					return usageError{errors.New("standard input has no name: write --name")}
				}
				if called == "" {
					called = job.NameOf(path)
				}
				e, err := library.Open().Save(called, data, replace)
				if err != nil {
					return fmt.Errorf("%s: %w", path, err)
				}
				fmt.Fprintf(cmd.ErrOrStderr(), "keeps %s %s: %s\n", e.Kind, quoted(e.Name), useOf(e.Kind))
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&name, "name", "", "the entry's name (default: that of the file)")
	cmd.Flags().BoolVar(&replace, "force", false, "replace an entry of that name")
	return cmd
}

// useOf says where an entry of a kind can be named.
func useOf(kind library.Kind) string {
	if kind == library.Readings {
		return "give fit its name from now on"
	}
	return fmt.Sprintf("name it as --%s from now on", kind)
}

// kindFlag tells entries of one name apart.
type kindFlag struct{ text string }

func (f *kindFlag) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.text, "kind", "", "the entry's kind, where two have the name: stack, machine, panel, rates or readings")
}

// kindOf finds the one kind that has an entry of a name.
func (f *kindFlag) kindOf(name string, own bool) (library.Kind, error) {
	if f.text != "" {
		kind, err := library.ParseKind(f.text)
		if err != nil {
			return kind, usageError{err}
		}
		return kind, nil
	}
	entries, err := library.Open().List()
	if err != nil {
		return "", err
	}
	var found []library.Kind
	for _, e := range entries {
		if e.Name == name && !(own && e.Starter) {
			found = append(found, e.Kind)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return "", fmt.Errorf("%q is the name of entries of more than one kind (%s): write --kind", name, list(found))
	case own:
		return "", fmt.Errorf("you have no entry called %q: see undercoat-cli library list", name)
	}
	return "", fmt.Errorf("there is no entry called %q: see undercoat-cli library list", name)
}

func newLibraryExport() *cobra.Command {
	var output string
	var replace bool
	var kind kindFlag
	cmd := &cobra.Command{
		Use:     "export NAME -o FILE.json",
		Short:   "Write an entry to a file of its own",
		Long:    "Export writes an entry, yours or a starter, to a JSON file that can be changed, sent and\nimported elsewhere.",
		Example: "  undercoat-cli library export slate-cream -o slate.json",
		Args:    exactly(1, "the name of one entry"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			k, err := kind.kindOf(args[0], false)
			if err != nil {
				return err
			}
			data, err := library.Open().Bytes(k, args[0])
			if err != nil {
				return err
			}
			return writeFile(cmd, output, replace, data)
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "", "the file to write, or - for standard output")
	cmd.Flags().BoolVar(&replace, "force", false, "replace the file if it is there")
	kind.add(cmd)
	return cmd
}

func newLibraryRemove() *cobra.Command {
	var kind kindFlag
	cmd := &cobra.Command{
		Use:     "remove NAME",
		Short:   "Take one of your own entries away",
		Long:    "Remove takes an entry of yours away; a starter that it hid shows again.",
		Example: "  undercoat-cli library remove slate-on-birch",
		Args:    exactly(1, "the name of one entry"),
		RunE: func(_ *cobra.Command, args []string) error {
			k, err := kind.kindOf(args[0], true)
			if err != nil {
				return err
			}
			return library.Open().Remove(k, args[0])
		},
	}
	kind.add(cmd)
	return cmd
}

func newLibraryDefaults() *cobra.Command {
	var d library.Defaults
	cmd := &cobra.Command{
		Use:     "defaults",
		Short:   "Say which entries serve where none is named",
		Long:    "Defaults shows which entries and which unit serve where nothing is said, after setting those\nthat are given. An empty name takes one back.",
		Example: "  undercoat-cli library defaults --machine diode-5w5 --unit in",
		Args:    exactly(0, "no arguments besides its flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			l := library.Open()
			now, err := l.Defaults()
			if err != nil && cmd.Flags().NFlag() == 0 {
				return err
			}
			changed := false
			for name, pair := range map[string][2]*string{
				"stack": {&now.Stack, &d.Stack}, "machine": {&now.Machine, &d.Machine}, "panel": {&now.Panel, &d.Panel},
				"rates": {&now.Rates, &d.Rates}, "unit": {&now.Unit, &d.Unit},
			} {
				if cmd.Flags().Changed(name) {
					*pair[0], changed = *pair[1], true
				}
			}
			if changed {
				if err := l.SetDefaults(now); err != nil {
					return err
				}
			}
			return json.NewEncoder(cmd.OutOrStdout()).Encode(now)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&d.Stack, "stack", "", "the stack's name")
	flags.StringVar(&d.Machine, "machine", "", "the machine's name")
	flags.StringVar(&d.Panel, "panel", "", "the panel's name")
	flags.StringVar(&d.Rates, "rates", "", "the name of price rates")
	flags.StringVar(&d.Unit, "unit", "", "the unit of lengths: mm, cm or in")
	return cmd
}
