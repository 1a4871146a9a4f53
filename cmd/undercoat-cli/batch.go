package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"undercoat/imaging/batch"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
)

type batchFlags struct {
	dir          string
	workers, row int
	count, json  bool
	only         []string
	workshop     workshopFlags
}

func newBatch() *cobra.Command {
	f := &batchFlags{}
	cmd := &cobra.Command{
		Use:     "batch ORDERS.csv -o DIR",
		Short:   "Prepare many orders from a table, again only what has changed",
		Long:    batchHelp,
		Example: "  undercoat-cli batch orders.csv -o orders --workers 2\n  undercoat-cli batch orders.csv --count",
		Args:    exactly(1, "one table of orders"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.count {
				return f.printCount(cmd, args[0])
			}
			if err := needed(cmd, "output"); err != nil {
				return err
			}
			if f.workers < 1 || f.workers > 256 {
				return usageError{fmt.Errorf("--workers is %d: choose 1 to 256", f.workers)}
			}
			return f.run(cmd, args[0])
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.dir, "output", "o", "", "the folder of all orders; made if missing")
	flags.IntVar(&f.workers, "workers", 1, "orders at a time; each uses all processors where it can")
	flags.IntVar(&f.row, "row", 0, "only the order in this row, the first below the headings being 1; writes no "+batch.SummaryFile)
	flags.BoolVar(&f.count, "count", false, "print how many orders there are, and do nothing else")
	flags.BoolVar(&f.json, "json", false, "print one JSON object about what came of each order")
	flags.StringSliceVar(&f.only, "only", nil, "prepare only these parts: "+job.OutputNames())
	f.workshop.add(cmd)
	return cmd
}

// orderColumns are the names of the options of new that a row may give.
func orderColumns() []string {
	var names []string
	cmd := &cobra.Command{}
	new(newFlags).add(cmd)
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}

// orders reads the table and tells which folder its files are named from.
func (f *batchFlags) orders(cmd *cobra.Command, path string) ([]batch.Order, string, error) {
	data, err := readFile(cmd, path)
	if err != nil {
		return nil, "", err
	}
	orders, err := batch.ReadOrders(strings.NewReader(string(data)), orderColumns())
	if err != nil {
		return nil, "", fmt.Errorf("%s: %w", path, err)
	}
	if path == standard {
		return orders, "", nil
	}
	return orders, filepath.Dir(path), nil
}

func (f *batchFlags) printCount(cmd *cobra.Command, path string) error {
	orders, _, err := f.orders(cmd, path)
	if err != nil {
		return err
	}
	if f.json {
		return json.NewEncoder(cmd.OutOrStdout()).Encode(map[string]int{"orders": len(orders)})
	}
	_, err = fmt.Fprintln(cmd.OutOrStdout(), len(orders))
	return err
}

func (f *batchFlags) run(cmd *cobra.Command, path string) error {
	only, err := job.ParseOutputs(f.only)
	if err != nil {
		return usageError{err}
	}
	workshop, err := f.workshop.read()
	if err != nil {
		return err
	}
	orders, base, err := f.orders(cmd, path)
	if err != nil {
		return err
	}
	one := cmd.Flags().Changed("row")
	if one {
		if f.row < 1 || f.row > len(orders) {
			return fmt.Errorf("row %d is not in the table: choose 1 to %d", f.row, len(orders))
		}
		orders = orders[f.row-1 : f.row]
	}
	progress := newProgress(cmd.ErrOrStderr())
	settled := 0
	results, err := batch.Run(cmd.Context(), batch.Request{
		Dir: f.dir, Orders: orders, Workers: f.workers,
		Open: func(o batch.Order) (batch.Work, error) {
			return openOrder(o, base, job.Request{Only: only, KeepJob: true, Force: true, Workshop: workshop})
		},
		Settled: func(r batch.Result) {
			settled++
			progress.clear()
			if r.State == batch.Failed {
				fmt.Fprintf(cmd.ErrOrStderr(), "line %d, order %s: %v\n", r.Order.Line, quoted(r.Order.Name), r.Err)
			}
			progress.show(float64(settled) / float64(len(orders)))
		},
	})
	progress.clear()
	if errors.Is(err, context.Canceled) {
		return stoppedError{"what is done stays; give the same command again to go on", err}
	}
	if err != nil {
		return err
	}
	if !one {
		if err := batch.WriteSummary(f.dir, results); err != nil {
			return err
		}
	}
	if err := f.report(cmd, results); err != nil {
		return err
	}
	return failures(results)
}

// openOrder works out what a row asks for, and what its result depends on.
func openOrder(o batch.Order, base string, r job.Request) (batch.Work, error) {
	f, err := orderOptions(o, base)
	if err != nil {
		return batch.Work{}, err
	}
	if f.picture == "" && len(f.texts) == 0 {
		return batch.Work{}, errors.New("there is neither a picture nor lettering: fill the column picture, text, or both")
	}
	d, err := f.blank()
	if err != nil {
		return batch.Work{}, err
	}
	inputs := struct {
		Document job.Document
		Cells    map[string]string
		Files    []string // their checksums
		Only     []job.Output
		Workshop job.Workshop
	}{Document: d, Cells: o.Cells, Only: r.Only, Workshop: r.Workshop}
	for _, path := range append([]string{f.picture}, f.fonts...) {
		sum := ""
		if path != "" {
			data, err := job.ReadBytes(path)
			if err != nil {
				return batch.Work{}, err
			}
			sum = job.Checksum(data)
		}
		inputs.Files = append(inputs.Files, sum)
	}
	text, err := json.Marshal(inputs)
	if err != nil {
		return batch.Work{}, err
	}
	return batch.Work{
		Inputs: job.Checksum(text),
		Prepare: func(ctx context.Context, dir string) (*job.Handoff, error) {
			j, err := f.job(ctx, d)
			if err != nil {
				return nil, err
			}
			request := r
			request.Dir = dir
			return job.Prepare(ctx, j, request)
		},
	}, nil
}

// orderOptions reads the cells of a row as the options of the same names. Files
// are named from the folder of the table.
func orderOptions(o batch.Order, base string) (*newFlags, error) {
	f := &newFlags{}
	cmd := &cobra.Command{}
	f.add(cmd)
	for column, cell := range o.Cells {
		values := []string{cell}
		switch column {
		case "text", "font":
			values = strings.Split(cell, "\n") // a cell may hold lines
		}
		for _, v := range values {
			v = strings.TrimSpace(v)
			if v == "" {
				continue
			}
			if isFileColumn(column, v) && !filepath.IsAbs(v) {
				v = filepath.Join(base, v)
			}
			if err := cmd.Flags().Set(column, v); err != nil {
				what := map[string]string{"int": "a whole number", "float64": "a number", "bool": "true or false"}[cmd.Flag(column).Value.Type()]
				return nil, fmt.Errorf("column %s: %q is not possible: write %s", column, v, what)
			}
		}
	}
	if f.name == "" {
		f.name = o.Name
	}
	return f, nil
}

// isFileColumn tells cells that name files from those that name entries.
func isFileColumn(column, cell string) bool {
	switch column {
	case "picture", "font":
		return true
	case "stack", "machine", "panel":
		return strings.HasSuffix(strings.ToLower(cell), ".json")
	}
	return false
}

// orderReport is what came of an order, as --json prints it.
type orderReport struct {
	Order     string      `json:"order"`
	Row       int         `json:"row"`
	Line      int         `json:"line"`
	Result    batch.State `json:"result"`
	Copies    int         `json:"copies"`
	BurnTimeS float64     `json:"burn_time_s,omitempty"` // of one copy
	Folder    string      `json:"folder,omitempty"`
	Fault     string      `json:"fault,omitempty"`
}

func (f *batchFlags) report(cmd *cobra.Command, results []batch.Result) error {
	count := map[batch.State]int{}
	var orders []orderReport
	for _, r := range results {
		count[r.State]++
		one := orderReport{Order: r.Order.Name, Row: r.Order.Row, Line: r.Order.Line, Result: r.State, Copies: r.Order.Copies, BurnTimeS: r.Record.BurnTimeS}
		if r.State == batch.Failed {
			one.Fault = r.Err.Error()
		} else {
			one.Folder = filepath.Join(f.dir, r.Order.Name)
		}
		orders = append(orders, one)
	}
	out := cmd.OutOrStdout()
	if f.json {
		return json.NewEncoder(out).Encode(struct {
			Made      int           `json:"made"`
			Unchanged int           `json:"unchanged"`
			Failed    int           `json:"failed"`
			Orders    []orderReport `json:"orders"`
		}{count[batch.Made], count[batch.Unchanged], count[batch.Failed], orders})
	}
	_, err := fmt.Fprintf(out, "%d made, %d unchanged, %d failed\n", count[batch.Made], count[batch.Unchanged], count[batch.Failed])
	return err
}

// failures is the error of a batch in which orders failed: of writing if any of
// them could not be written, else of input.
func failures(results []batch.Result) error {
	failed := 0
	var write *export.WriteError
	for _, r := range results {
		if r.State == batch.Failed {
			failed++
			if write == nil {
				errors.As(r.Err, &write)
			}
		}
	}
	if failed == 0 {
		return nil
	}
	err := fmt.Errorf("%d of %d orders failed: correct their rows and give the same command again", failed, len(results))
	if write != nil {
		return someUnwritten{err, write}
	}
	return err
}

// someUnwritten says that orders failed, and is an error of writing to whoever asks.
type someUnwritten struct {
	error
	write *export.WriteError
}

func (e someUnwritten) Unwrap() error { return e.write }

// stoppedError is an interruption after which something stays.
type stoppedError struct {
	what string
	error
}

func (e stoppedError) Unwrap() error { return e.error }
