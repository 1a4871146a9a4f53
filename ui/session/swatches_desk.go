package session

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/folders"
	"undercoat/imaging/job"
	"undercoat/imaging/strict"
	"undercoat/imaging/swatch"
)

// Swatches are the charts that lie on the maker's desk: the one that photographs are
// read with, and what the charts read so far look like.
type Swatches struct {
	Chart     *swatch.Chart // nil: none
	ChartName string
	Readings  []ChartReading
}

// Clone is a copy that later answers do not change.
func (s Swatches) Clone() Swatches {
	s.Readings = slices.Clone(s.Readings)
	for i := range s.Readings {
		s.Readings[i].Readings.Swatches = slices.Clone(s.Readings[i].Readings.Swatches)
	}
	return s
}

// The kind and version of the file of a desk.
const (
	deskKind    = "undercoat-desk"
	deskVersion = 1
)

// deskFile is what stands in the file of a desk.
type deskFile struct {
	Kind      string          `json:"kind"`
	Version   int             `json:"version"`
	Chart     json.RawMessage `json:"chart,omitempty"`
	ChartName string          `json:"chart_name,omitempty"`
	Charts    []deskChart     `json:"charts"`
}

type deskChart struct {
	Name     string          `json:"name"`
	Readings json.RawMessage `json:"readings"`
	Measured json.RawMessage `json:"measured,omitempty"`
	Cautions []string        `json:"cautions,omitempty"`
	Stack    *coat.Stack     `json:"stack,omitempty"`
}

// Desk keeps swatches in the user's state folder from one start of the program to the
// next, so that an evening of looking at a chart is not lost. One window has it at a time.
type Desk struct {
	path   string
	lock   *job.Lock
	failed func(error)
	writes chan Swatches
	ended  sync.WaitGroup
}

// OpenDesk takes the desk. It is a [*job.LockedError] while another window has it.
// failed is told, from another goroutine, what could not be kept.
func OpenDesk(failed func(error)) (*Desk, error) {
	d := &Desk{path: filepath.Join(folders.State(), "swatches.json"), failed: failed, writes: make(chan Swatches, 1)}
	if err := os.MkdirAll(filepath.Dir(d.path), 0o700); err != nil {
		return nil, &export.WriteError{Path: filepath.Dir(d.path), Err: errors.Unwrap(err)}
	}
	lock, err := job.LockFile(d.path)
	if err != nil {
		return nil, err
	}
	d.lock = lock
	d.ended.Go(func() {
		for s := range d.writes {
			if err := d.write(s); err != nil {
				d.failed(err)
			}
		}
	})
	return d, nil
}

// Keep keeps swatches in place of those kept before, soon and beside the caller, who
// must be one goroutine at a time.
func (d *Desk) Keep(s Swatches) {
	select {
	case <-d.writes: // what was not written yet is out of date
	default:
	}
	d.writes <- s.Clone()
}

// Close writes what is still to be kept and gives the desk back. Nothing may be kept
// after it.
func (d *Desk) Close() error {
	close(d.writes)
	d.ended.Wait()
	return d.lock.Release()
}

func (d *Desk) write(s Swatches) error {
	data, err := s.file()
	if err != nil {
		return err
	}
	return export.WriteFile(d.path, true, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

func (s Swatches) file() ([]byte, error) {
	f := deskFile{Kind: deskKind, Version: deskVersion, ChartName: s.ChartName, Charts: []deskChart{}}
	var err error
	if s.Chart != nil {
		if f.Chart, err = s.Chart.JSON(); err != nil {
			return nil, err
		}
	}
	for _, c := range s.Readings {
		k := deskChart{Name: c.Name, Cautions: c.Cautions, Stack: c.Stack}
		if k.Readings, err = c.Readings.JSON(); err != nil {
			return nil, err
		}
		if c.measured != nil {
			if k.Measured, err = (swatch.Readings{Swatches: c.measured}).JSON(); err != nil {
				return nil, err
			}
		}
		f.Charts = append(f.Charts, k)
	}
	return json.Marshal(f)
}

// Swatches reads what was kept; nothing at all is no error.
func (d *Desk) Swatches() (Swatches, error) {
	data, err := os.ReadFile(d.path)
	if errors.Is(err, fs.ErrNotExist) {
		return Swatches{}, nil
	}
	if err == nil {
		var s Swatches
		if s, err = readDesk(data); err == nil {
			return s, nil
		}
	}
	return Swatches{}, fmt.Errorf("the charts read last time cannot be taken up again (%w): read them anew", err)
}

func readDesk(data []byte) (Swatches, error) {
	var f deskFile
	if err := strict.Decode(data, &f); err != nil {
		return Swatches{}, err
	}
	if f.Kind != deskKind || f.Version != deskVersion {
		return Swatches{}, fmt.Errorf("kind is %q and version %d", f.Kind, f.Version)
	}
	s := Swatches{ChartName: f.ChartName}
	if f.Chart != nil {
		chart, err := swatch.ReadChart(f.Chart)
		if err != nil {
			return Swatches{}, err
		}
		s.Chart = &chart
	}
	for _, k := range f.Charts {
		r, err := swatch.ReadReadings(k.Readings)
		if err != nil {
			return Swatches{}, err
		}
		c := ChartReading{Name: k.Name, Readings: r, Cautions: k.Cautions, Stack: k.Stack}
		if k.Measured != nil {
			m, err := swatch.ReadReadings(k.Measured)
			if err != nil {
				return Swatches{}, err
			}
			c.measured = m.Swatches
		}
		s.Readings = append(s.Readings, c)
	}
	return s, nil
}
