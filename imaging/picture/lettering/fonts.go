package lettering

import (
	"fmt"
	"sync"
)

// Fonts are the fonts a job's lines may use, by name: its own, added by
// [Fonts.Add], before those of a library. They may be shared between goroutines.
type Fonts struct {
	mu      sync.Mutex
	library func(name string) ([]byte, bool)
	parsed  map[string]*Font
}

// NewFonts makes a collection; library gives the bytes of fonts by name, nil for none.
func NewFonts(library func(name string) ([]byte, bool)) *Fonts {
	return &Fonts{library: library, parsed: map[string]*Font{}}
}

// Add reads a TTF or OTF font of the user's own under a name; it takes the place
// of one of the same name.
func (f *Fonts) Add(name string, data []byte) error {
	font, err := ParseFont(name, data)
	if err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.parsed[name] = font
	return nil
}

// Font is the font of a name.
func (f *Fonts) Font(name string) (*Font, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if font, known := f.parsed[name]; known {
		return font, nil
	}
	if f.library != nil {
		if data, found := f.library(name); found {
			font, err := ParseFont(name, data)
			if err != nil {
				return nil, err
			}
			f.parsed[name] = font
			return font, nil
		}
	}
	return nil, fmt.Errorf("there is no font %q: choose another one, or add its file", name)
}
