package batch_test

import (
	"errors"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/batch"
)

var columns = []string{"picture", "panel", "power", "text"}

func read(t *testing.T, table string) []batch.Order {
	t.Helper()
	orders, err := batch.ReadOrders(strings.NewReader(table), columns)
	require.NoError(t, err)
	return orders
}

func TestReadOrders(t *testing.T) {
	want := []batch.Order{
		{Row: 1, Line: 2, Name: "harbour", Copies: 2, Cells: map[string]string{"picture": "a, b.jpg", "power": "30"}},
		{Row: 2, Line: 4, Name: "sign", Copies: 1, Cells: map[string]string{"text": "Please\nknock"}},
		{Row: 3, Line: 6, Name: "Möwe", Copies: 1, Cells: map[string]string{}},
	}
	for name, table := range map[string]string{
		"commas":              "order,Picture,copies,power,text\nharbour,\"a, b.jpg\",2,30\n,,,,\nsign,,,,\"Please\nknock\"\n Möwe \n",
		"semicolons":          "order;picture;copies;power;text\nharbour;a, b.jpg;2;30\n;;;;\nsign;;;;\"Please\nknock\"\nMöwe\n",
		"a mark before":       "\xef\xbb\xbforder,picture,copies,power,text\nharbour,\"a, b.jpg\",2,30\n,,,,\nsign,,,,\"Please\nknock\"\nMöwe",
		"lines as on Windows": "order,picture,copies,power,text\r\nharbour,\"a, b.jpg\",2,30\r\n,,,,\r\nsign,,,,\"Please\r\nknock\"\r\nMöwe\r\n",
	} {
		t.Run(name, func(t *testing.T) { require.Equal(t, want, read(t, table)) })
	}
}

func TestAWrongRowSpoilsNoOther(t *testing.T) {
	orders := read(t, "order,copies,power\ngood,1,30\n,1,30\na/b,1,30\nmany,0,30\nmuch,1,30,40\ngood,1,50\nGOOD,1,50\nsummary.csv,1,1\nfine,3,\n")
	want := []string{
		"", `order: name "" is empty`, `order: name "a/b" holds one of`, `copies "0" is not a number of panels`, "the row has 4 cells and there are 3 columns",
		`order "good" stands in line 2 already`, `order "GOOD" stands in line 2 already`, `order "summary.csv" is what`, "",
	}
	require.Len(t, orders, len(want))
	for i, o := range orders {
		if want[i] == "" {
			require.NoError(t, o.Err)
			continue
		}
		require.ErrorContains(t, o.Err, want[i])
		require.Equal(t, i+2, o.Line)
	}
}

func TestAWrongTableIsRefused(t *testing.T) {
	for name, c := range map[string]struct{ table, want string }{
		"empty":           {"", "the table of orders is empty"},
		"no orders":       {"order,power\n,\n", "the table has no orders"},
		"unknown column":  {"order,colour\n", `column "colour" is not known: use order, copies, picture, panel, power, text`},
		"twice":           {"order,power,Power\n", `column "power" is there twice`},
		"no name":         {"order,,power\n", "column 2 has no name"},
		"no order":        {"picture,power\n", `there is no column "order"`},
		"open quotation":  {"order,power\na,\"30\nb,40\n", "close every quotation mark"},
		"stray quotation": {"order,power\na,3\"0\n", "close every quotation mark"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := batch.ReadOrders(strings.NewReader(c.table), columns)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := batch.ReadOrders(iotest.ErrReader(errors.New("gone")), columns)
	require.ErrorContains(t, err, "gone")
}

// Whatever the text, reading it ends in orders with distinct names or in an error.
func TestAnyTableIsReadOrRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOf(rapid.StringMatching(`[a-c,;"\n 1]{0,12}`)).Draw(t, "rows")
		orders, err := batch.ReadOrders(strings.NewReader("order,copies,power\n"+strings.Join(rows, "\n")), columns)
		if err != nil {
			return
		}
		seen := map[string]bool{}
		for i, o := range orders {
			require.Equal(t, i+1, o.Row)
			if o.Err == nil {
				require.False(t, seen[strings.ToLower(o.Name)])
				seen[strings.ToLower(o.Name)] = true
			}
		}
	})
}
