package batch_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/batch"
)

// FuzzReadOrders reads any bytes as a table. No two orders that can be used share a
// folder, and each has a line of the table to name.
func FuzzReadOrders(f *testing.F) {
	columns := []string{"picture", "panel", "border", "text"}
	f.Add([]byte("order,picture,copies\nharbour,boat.jpg,2\npier,boat.jpg,\n"))
	f.Add([]byte("\xef\xbb\xbforder;picture\n\"a\nb\";x\n..;y\na;\n"))
	f.Add([]byte("order,order\n"))
	f.Add([]byte("order,text\n\"unended"))
	f.Add([]byte("\x00\xff,;\r\r\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		orders, err := batch.ReadOrders(bytes.NewReader(data), columns)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		seen := map[string]bool{}
		for i, o := range orders {
			require.Equal(t, i+1, o.Row)
			require.Positive(t, o.Line)
			if o.Err != nil {
				continue
			}
			require.False(t, seen[o.Name], "two orders are called %q", o.Name)
			seen[o.Name] = true
			require.Positive(t, o.Copies)
			require.NotContains(t, o.Name, "/")
			require.NotEqual(t, "..", o.Name)
		}
	})
}
