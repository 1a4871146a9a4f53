package batch

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"undercoat/imaging/library"
)

// The columns that this package reads itself.
const (
	OrderColumn  = "order"
	CopiesColumn = "copies"
)

const (
	maxTableBytes = 64 << 20
	maxCopies     = 10_000
)

// Order is one row of the table.
type Order struct {
	Row    int               // 1 for the first order of the table
	Line   int               // of the file, for messages
	Name   string            // of its folder
	Copies int               // 1 where none are given
	Cells  map[string]string // by column, those that are not empty; without order and copies
	Err    error             // why the row cannot be used
}

// ReadOrders reads a table of comma- or semicolon-separated values. Its first line
// names the columns: order, maybe copies, and any of those given. A wrong column is
// an error of the table; a wrong row has its own, and stands for nobody else.
func ReadOrders(r io.Reader, columns []string) ([]Order, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxTableBytes+1))
	if err != nil {
		return nil, fmt.Errorf("the table of orders cannot be read (%w): check the file", err)
	}
	if len(data) > maxTableBytes {
		return nil, fmt.Errorf("the table of orders is over %d MiB: split it", maxTableBytes>>20)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // some programs put this mark before text
	table := csv.NewReader(bytes.NewReader(data))
	table.FieldsPerRecord = -1
	table.Comma = separator(data)
	heads, err := table.Read()
	if errors.Is(err, io.EOF) {
		return nil, errors.New("the table of orders is empty: name the columns in its first line, order first")
	}
	if err != nil {
		return nil, tableError(err)
	}
	if heads, err = checkHeads(heads, columns); err != nil {
		return nil, err
	}
	var orders []Order
	for {
		row, err := table.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, tableError(err)
		}
		if strings.TrimSpace(strings.Join(row, "")) == "" {
			continue // a spreadsheet's empty row
		}
		line, _ := table.FieldPos(0)
		orders = append(orders, readOrder(heads, row, len(orders)+1, line))
	}
	if len(orders) == 0 {
		return nil, errors.New("the table has no orders: write one a row, below the names of the columns")
	}
	nameTwins(orders)
	return orders, nil
}

// separator goes by the first line: spreadsheets write semicolons where the comma
// is the decimal point.
func separator(data []byte) rune {
	line, _ := bufio.NewReader(bytes.NewReader(data)).ReadString('\n')
	if strings.Count(line, ";") > strings.Count(line, ",") {
		return ';'
	}
	return ','
}

func tableError(err error) error {
	return fmt.Errorf("the table of orders: %w: close every quotation mark, and double those within a cell", err)
}

func checkHeads(heads, columns []string) ([]string, error) {
	known := append([]string{OrderColumn, CopiesColumn}, columns...)
	seen := map[string]bool{}
	for i, head := range heads {
		head = strings.ReplaceAll(strings.ToLower(strings.TrimSpace(head)), " ", "-")
		switch {
		case head == "":
			return nil, fmt.Errorf("column %d has no name: name it or take it out", i+1)
		case !slices.Contains(known, head):
			return nil, fmt.Errorf("column %q is not known: use %s", head, strings.Join(known, ", "))
		case seen[head]:
			return nil, fmt.Errorf("column %q is there twice: take one out", head)
		}
		heads[i], seen[head] = head, true
	}
	if !seen[OrderColumn] {
		return nil, fmt.Errorf("there is no column %q: add one that gives each order a name", OrderColumn)
	}
	return heads, nil
}

func readOrder(heads, row []string, number, line int) Order {
	o := Order{Row: number, Line: line, Copies: 1, Cells: map[string]string{}}
	for i, cell := range row {
		cell = strings.TrimSpace(cell)
		if cell == "" {
			continue
		}
		if i >= len(heads) {
			o.Err = fmt.Errorf("the row has %d cells and there are %d columns: put cells that hold a comma in quotation marks", len(row), len(heads))
			break
		}
		switch heads[i] {
		case OrderColumn:
			o.Name = cell
		case CopiesColumn:
			n, err := strconv.Atoi(cell)
			if err != nil || n < 1 || n > maxCopies {
				o.Err = fmt.Errorf("copies %q is not a number of panels: write 1 to %d", cell, maxCopies)
			}
			o.Copies = n
		default:
			o.Cells[heads[i]] = cell
		}
	}
	if err := library.CheckName(o.Name); o.Err == nil && err != nil {
		o.Err = fmt.Errorf("order: %w", err)
	}
	if o.Err == nil && strings.EqualFold(o.Name, SummaryFile) {
		o.Err = fmt.Errorf("order %q is what the table of results is called: choose another name", o.Name)
	}
	return o
}

// nameTwins marks orders of one name, which would share a folder: all but the first.
// Some file systems do not tell capitals apart.
func nameTwins(orders []Order) {
	first := map[string]int{}
	for i, o := range orders {
		if o.Name == "" {
			continue
		}
		name := strings.ToLower(o.Name)
		if before, ok := first[name]; ok {
			if o.Err == nil {
				orders[i].Err = fmt.Errorf("order %q stands in line %d already: give each order a name of its own", o.Name, before)
			}
			continue
		}
		first[name] = o.Line
	}
}
