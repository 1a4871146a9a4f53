package layout

import (
	"encoding/json"
	"fmt"
)

// readNumbers reads a JSON list of exactly as many numbers as there are places
// to put them; shape shows the list in messages. Nothing is set on an error.
func readNumbers[N ~float64](data []byte, shape string, into ...*N) error {
	var list []*N // pointers, so that null is seen and not read as 0
	if err := json.Unmarshal(data, &list); err != nil {
		return fmt.Errorf("%s is not a list of numbers: write %s: %w", shortened(string(data)), shape, err)
	}
	if len(list) != len(into) {
		return fmt.Errorf("list %s has %d numbers in place of %d: write %s", shortened(string(data)), len(list), len(into), shape)
	}
	for _, n := range list {
		if n == nil {
			return fmt.Errorf("list %s holds a null: write %s", shortened(string(data)), shape)
		}
	}
	for i, n := range list {
		*into[i] = *n
	}
	return nil
}
