package library

import (
	"fmt"
	"strings"
	"unicode"
)

// maxName leaves an entry's name room to be a file's name.
const maxName = 100

// CheckName refuses a name that cannot be the name of a file everywhere, or that a
// command line would take for something else.
func CheckName(name string) error {
	problem := ""
	switch {
	case strings.TrimSpace(name) == "":
		problem = "is empty"
	case len(name) > maxName:
		problem = fmt.Sprintf("is %d bytes long and %d are room for", len(name), maxName)
	case strings.ContainsFunc(name, unicode.IsControl), strings.ContainsAny(name, `/\:*?"<>|`):
		problem = `holds one of / \ : * ? " < > | or an unseen character`
	case strings.HasPrefix(name, "-"), strings.HasPrefix(name, "."):
		problem = "begins with a dash or a dot"
	case strings.TrimSpace(name) != name, strings.HasSuffix(name, "."):
		problem = "begins or ends with a blank or ends with a dot"
	case strings.HasSuffix(strings.ToLower(name), extension):
		problem = "ends in .json, as a file does"
	}
	if problem == "" {
		return nil
	}
	return fmt.Errorf("name %q %s: choose another, for instance black-on-birch", name, problem)
}
