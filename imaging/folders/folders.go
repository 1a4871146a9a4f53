package folders

import (
	"path/filepath"
	"sync"

	"github.com/adrg/xdg"
)

// name is the program's own folder in each.
const name = "undercoat"

// reading keeps calls apart: the library below reads the environment into
// variables of its own.
var reading sync.Mutex

// Config is the folder for the library and other choices of the user.
func Config() string { return under(&xdg.ConfigHome) }

// State is the folder for what is kept between two runs and may be lost.
func State() string { return under(&xdg.StateHome) }

// under reads the environment at every call, so that a program started with
// another folder in it, or a test, finds that one.
func under(base *string) string {
	reading.Lock()
	defer reading.Unlock()
	xdg.Reload()
	return filepath.Join(*base, name)
}
