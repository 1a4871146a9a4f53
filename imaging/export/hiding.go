package export

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"undercoat/imaging/process"
)

// hidingPrefix begins the name of a hidden folder; the writer's mark follows, so
// that whoever finds one can tell whether its writer still works.
const hidingPrefix = ".undercoat-"

// hiding is the hidden folders in which the files of one write wait: one for
// each folder that they go to, of which there is more than one only where a
// symbolic link leads elsewhere.
type hiding struct{ folders map[string]string }

// beside is the hidden folder in dir, made if need be.
func (h *hiding) beside(dir string) (string, error) {
	if made, ok := h.folders[dir]; ok {
		return made, nil
	}
	if err := Tidy(dir); err != nil {
		return "", err
	}
	m := process.Here()
	path := filepath.Join(dir, fmt.Sprintf("%s%s-%d-%s", hidingPrefix, m.Place, m.PID, process.Token()))
	if err := os.Mkdir(path, 0o777); err != nil {
		return "", err
	}
	if h.folders == nil {
		h.folders = map[string]string{}
	}
	h.folders[dir] = path
	return path, nil
}

// clear takes the hidden folders away with what is left in them.
func (h *hiding) clear() {
	for _, path := range h.folders {
		_ = os.RemoveAll(path) // one left hidden does no harm, and the next Tidy finds it
	}
	h.folders = nil
}

// markIn reads the mark in the name of a hidden folder.
func markIn(name string) (process.Mark, bool) {
	rest, ok := strings.CutPrefix(name, hidingPrefix)
	parts := strings.Split(rest, "-")
	if !ok || len(parts) != 3 {
		return process.Mark{}, false
	}
	m := process.Mark{Place: parts[0]}
	if _, err := fmt.Sscanf(parts[1], "%d", &m.PID); err != nil {
		return process.Mark{}, false
	}
	return m, true
}
