package batch

import (
	"encoding/csv"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"undercoat/imaging/export"
)

// SummaryFile is what the table of results is called, in the folder of them all.
const SummaryFile = "summary.csv"

// summaryHeads are the columns of the table of results. What came of an order does
// not depend on which process made it, and neither does the table.
var summaryHeads = []string{
	"order", "result", "copies", "dots_wide", "dots_high", "burn_time_one_s", "burn_time_all_s", "fits", "calibrated", "folder", "remarks",
}

// WriteSummary writes the table of results into dir, replacing an earlier one.
func WriteSummary(dir string, results []Result) error {
	return export.WriteFile(filepath.Join(dir, SummaryFile), true, func(w io.Writer) error {
		table := csv.NewWriter(w)
		if err := table.Write(summaryHeads); err != nil {
			return err
		}
		for _, r := range results {
			if err := table.Write(summaryRow(r)); err != nil {
				return err
			}
		}
		table.Flush()
		return table.Error()
	})
}

func summaryRow(r Result) []string {
	o, n := r.Order, r.Record
	copies := strconv.Itoa(o.Copies)
	if r.State == Failed {
		return []string{plain(o.Name), "failed", copies, "", "", "", "", "", "", "", plain(fmt.Sprintf("line %d: %v", o.Line, r.Err))}
	}
	return []string{
		plain(o.Name), "done", copies, strconv.Itoa(n.Dots[0]), strconv.Itoa(n.Dots[1]),
		seconds(n.BurnTimeS), seconds(n.BurnTimeS * float64(o.Copies)), strconv.FormatBool(n.Fits), strconv.FormatBool(n.Calibrated),
		plain(o.Name), plain(strings.Join(n.Cautions, "; ")),
	}
}

func seconds(s float64) string { return strconv.FormatFloat(s, 'f', 0, 64) }

// plain keeps a spreadsheet from taking text for a formula.
func plain(text string) string {
	if strings.ContainsAny(firstByte(text), "=+-@\t\r") {
		return "'" + text
	}
	return text
}

func firstByte(text string) string { return text[:min(len(text), 1)] }
