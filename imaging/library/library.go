package library

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/folders"
)

const (
	extension = ".json"
	// maxEntryBytes bounds an entry, which is some kilobytes long.
	maxEntryBytes = 4 << 20
)

// Library is the user's own entries, in one folder, over the starter entries. The
// zero value is the starters alone.
type Library struct{ dir string }

// Open is the library in the user's own folder, which need not exist yet.
func Open() Library { return In(filepath.Join(folders.Config(), "library")) }

// In is a library in another folder.
func In(dir string) Library { return Library{dir} }

// Entry is one entry of a library.
type Entry struct {
	Kind    Kind
	Name    string // by which it is called
	Title   string // which it bears itself
	Starter bool   // came with the program
	File    string // its path, empty for a starter
	Err     error  // why it cannot be used; nil for all is well
}

// List is every entry, a kind at a time: the user's by name, then the starters
// that they do not hide, in their order. The error is that of a folder.
func (l Library) List() ([]Entry, error) {
	var out []Entry
	var errs []error
	for _, kind := range Kinds() {
		names, err := l.own(kind)
		errs = append(errs, err)
		for _, name := range names {
			e := Entry{Kind: kind, Name: name, File: l.path(kind, name)}
			data, err := readEntry(e.File)
			if err == nil {
				e.Title, err = shapes[kind].title(data)
			}
			e.Err = err
			out = append(out, e)
		}
		for _, name := range shapes[kind].names() {
			if slices.Contains(names, name) {
				continue
			}
			data, _ := shapes[kind].starter(name)
			title, err := shapes[kind].title(data)
			out = append(out, Entry{Kind: kind, Name: name, Title: title, Starter: true, Err: err})
		}
	}
	return out, errors.Join(errs...)
}

// Broken is the entries of the user's that cannot be used, the defaults among them.
func (l Library) Broken() []Entry {
	all, _ := l.List()
	broken := slices.DeleteFunc(all, func(e Entry) bool { return e.Err == nil })
	if _, err := l.Defaults(); err != nil {
		broken = append(broken, Entry{Name: "defaults", File: l.defaultsPath(), Err: err})
	}
	return broken
}

// Names is every name of a kind, in the order of [Library.List].
func (l Library) Names(kind Kind) []string {
	names, _ := l.own(kind) // a folder that cannot be read holds nothing to use
	for _, name := range shapes[kind].names() {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// NoEntryError tells that a library has no entry of a name.
type NoEntryError struct {
	Kind  Kind
	Name  string
	Names []string // that it has
}

func (e *NoEntryError) Error() string {
	if len(e.Names) == 0 {
		return fmt.Sprintf("there is no entry of %s called %q: import one, or name a JSON file", e.Kind, e.Name)
	}
	return fmt.Sprintf("there is no %s called %q: choose one of %s, or name a JSON file", e.Kind, e.Name, strings.Join(slices.Sorted(slices.Values(e.Names)), ", "))
}

// Bytes is the file of an entry: the user's own, or else a starter. An empty name
// is that of the defaults, or else the first starter. It is a [*NoEntryError] where
// there is none.
func (l Library) Bytes(kind Kind, name string) ([]byte, error) {
	if name == "" {
		name = l.usual(kind)
	}
	if l.dir != "" && CheckName(name) == nil {
		data, err := readEntry(l.path(kind, name))
		if err == nil {
			return data, nil
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s %s: %w", kind, name, err)
		}
	}
	if data, ok := shapes[kind].starter(name); ok {
		return data, nil
	}
	return nil, &NoEntryError{kind, name, l.Names(kind)}
}

// usual is the name that stands for none.
func (l Library) usual(kind Kind) string {
	d, err := l.Defaults()
	if name := d.of(kind); err == nil && name != "" {
		return name
	}
	if names := shapes[kind].names(); len(names) > 0 {
		return names[0]
	}
	return ""
}

// Stack is the stack of a name; see [Library.Bytes].
func (l Library) Stack(name string) (coat.Stack, error) { return read(l, Stack, name, coat.ReadStack) }

// Machine is the machine of a name; see [Library.Bytes].
func (l Library) Machine(name string) (burn.Machine, error) {
	return read(l, Machine, name, burn.ReadMachine)
}

// Panel is the panel of a name; see [Library.Bytes].
func (l Library) Panel(name string) (PanelEntry, error) { return read(l, Panel, name, ReadPanel) }

// Rates are the price rates of a name; see [Library.Bytes]. No rates come with the
// program.
func (l Library) Rates(name string) (export.Rates, error) {
	return read(l, Rates, name, export.ReadRates)
}

func read[T any](l Library, kind Kind, name string, parse func([]byte) (T, error)) (T, error) {
	var none T
	data, err := l.Bytes(kind, name)
	if err != nil {
		return none, err
	}
	v, err := parse(data)
	if err != nil {
		return none, fmt.Errorf("%s %s: %w", kind, name, err)
	}
	return v, nil
}

// errStarters is a programmer's slip.
var errStarters = errors.New("the starter entries cannot be changed: open a library")

// Save keeps an entry under a name, after it was read as any other is. Without
// force an entry of that name is not replaced.
func (l Library) Save(name string, data []byte, force bool) (Entry, error) {
	if l.dir == "" {
		return Entry{}, errStarters
	}
	kind, err := kindOf(data)
	if err != nil {
		return Entry{}, err
	}
	if err := CheckName(name); err != nil {
		return Entry{}, err
	}
	title, err := shapes[kind].title(data)
	if err != nil {
		return Entry{}, err
	}
	e := Entry{Kind: kind, Name: name, Title: title, File: l.path(kind, name)}
	return e, write(e.File, data, force)
}

// Remove takes an entry of the user's away.
func (l Library) Remove(kind Kind, name string) error {
	err := fs.ErrNotExist
	if l.dir != "" && CheckName(name) == nil {
		err = os.Remove(l.path(kind, name))
	}
	if errors.Is(err, fs.ErrNotExist) {
		if slices.Contains(shapes[kind].names(), name) {
			return fmt.Errorf("%s %s came with the program and stays: only your own entries can be removed", kind, name)
		}
		return &NoEntryError{kind, name, l.Names(kind)}
	}
	if err != nil {
		return &export.WriteError{Path: l.path(kind, name), Err: errors.Unwrap(err)}
	}
	return nil
}

func (l Library) path(kind Kind, name string) string {
	return filepath.Join(l.dir, shapes[kind].folder, name+extension)
}

// own is the names of the user's entries of a kind, sorted.
func (l Library) own(kind Kind) ([]string, error) {
	if l.dir == "" {
		return nil, nil
	}
	files, err := os.ReadDir(filepath.Join(l.dir, shapes[kind].folder))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("the library's folder cannot be read (%w): check that it may be", err)
	}
	var names []string
	for _, f := range files {
		name, ok := strings.CutSuffix(f.Name(), extension)
		if ok && !f.IsDir() && CheckName(name) == nil {
			names = append(names, name)
		}
	}
	return names, nil
}

// readEntry reads a file that is no larger than an entry can be.
func readEntry(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxEntryBytes+1))
	if err == nil && len(data) > maxEntryBytes {
		err = fmt.Errorf("%s is over %d MiB: no entry is, remove it", path, maxEntryBytes>>20)
	}
	return data, err
}

// write makes the folder first.
func write(path string, data []byte, force bool) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return &export.WriteError{Path: filepath.Dir(path), Err: errors.Unwrap(err)}
	}
	return export.WriteFile(path, force, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
