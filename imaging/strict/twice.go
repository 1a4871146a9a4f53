package strict

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
)

// level is an object or a list that is being walked through.
type level struct {
	names map[string]bool // seen in an object so far; nil: this is a list
	name  string          // the one seen last
	named bool            // and its value comes next
	items int             // of a list, that have begun
}

// twice is the path of the first name that an object holds a second time, of which
// JSON's readers silently take one; empty where there is none. What is not JSON is
// left to the decoder proper.
func twice(data []byte) string {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var open []*level // the innermost last
	for {
		token, err := dec.Token()
		if err != nil {
			return ""
		}
		delim, _ := token.(json.Delim)
		if delim == '}' || delim == ']' {
			open = open[:len(open)-1]
			continue
		}
		if len(open) > 0 {
			in := open[len(open)-1]
			if in.names != nil && !in.named {
				if in.name = token.(string); in.names[in.name] { // the reader lets nothing else stand here
					return pathTo(open)
				}
				in.names[in.name], in.named = true, true
				continue
			}
			in.named = false
			in.items++
		}
		switch delim {
		case '{':
			open = append(open, &level{names: map[string]bool{}})
		case '[':
			open = append(open, &level{})
		}
	}
}

// pathTo is the path of what was read last.
func pathTo(open []*level) string {
	var path strings.Builder
	for i, l := range open {
		switch {
		case l.names == nil:
			fmt.Fprintf(&path, "[%d]", l.items-1)
		case i == 0:
			path.WriteString(l.name)
		default:
			path.WriteString("." + l.name)
		}
	}
	return path.String()
}
