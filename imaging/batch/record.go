package batch

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/strict"
)

// RecordFile is what the record of an order is called, in its folder.
const RecordFile = "order.json"

// The kind and version of records.
const (
	RecordKind    = "undercoat-order"
	RecordVersion = 1
)

// Record says that an order was prepared, from what and into what. It depends on
// the order alone: not on when, where or in which row it was made.
type Record struct {
	Kind       string         `json:"kind"`
	Version    int            `json:"version"`
	Order      string         `json:"order"`
	Copies     int            `json:"copies"`
	Inputs     string         `json:"inputs_sha256"`
	Dots       [2]int         `json:"raster_dots"`
	BurnTimeS  float64        `json:"burn_time_s"` // of one copy
	Fits       bool           `json:"fits"`
	Calibrated bool           `json:"calibrated"`
	Cautions   []string       `json:"cautions,omitempty"`
	Files      []export.Entry `json:"files"`
}

// newRecord is the record of a hand-off in dir.
func newRecord(o Order, inputs, dir string, h *job.Handoff) (Record, error) {
	r := Record{
		Kind: RecordKind, Version: RecordVersion, Order: o.Name, Copies: o.Copies, Inputs: inputs,
		Dots: h.Note.RasterDots, BurnTimeS: h.Note.BurnTimeS, Fits: h.Note.Fits, Calibrated: h.Note.Calibrated, Cautions: h.Cautions,
	}
	for _, path := range h.Files {
		name := filepath.Base(path)
		sum, err := fileSum(filepath.Join(dir, name))
		if err != nil {
			return r, fmt.Errorf("%s cannot be read back (%w): prepare the order again", path, err)
		}
		r.Files = append(r.Files, export.Entry{Name: name, SHA256: sum})
	}
	return r, nil
}

func (r Record) write(dir string) error {
	data, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return err
	}
	return export.WriteFile(filepath.Join(dir, RecordFile), true, func(w io.Writer) error {
		_, err := w.Write(append(data, '\n'))
		return err
	})
}

// readRecord reads the record in dir; one that cannot be read is none.
func readRecord(dir string) (Record, bool) {
	data, err := job.ReadBytes(filepath.Join(dir, RecordFile))
	if err != nil {
		return Record{}, false
	}
	var r Record
	if strict.Decode(data, &r) != nil || r.Kind != RecordKind || r.Version != RecordVersion {
		return Record{}, false
	}
	return r, true
}

// stands tells whether dir holds what was made from these inputs, byte for byte.
// What one who was killed had begun there is ended first, since it may change that.
func stands(dir, inputs string) (_ Record, ok bool, err error) {
	if err := export.Tidy(dir); err != nil {
		return Record{}, false, err
	}
	r, ok := readRecord(dir)
	if !ok || r.Inputs != inputs || len(r.Files) == 0 {
		return Record{}, false, nil
	}
	for _, f := range r.Files {
		sum, err := fileSum(filepath.Join(dir, filepath.Base(f.Name)))
		if err != nil || sum != f.SHA256 {
			return Record{}, false, nil
		}
	}
	return r, true, nil
}

// removeOthers takes away the files of an earlier record that the new one does not
// have: a step or a sheet which is not made any more.
func (r Record) removeOthers(dir string, before Record) {
	for _, f := range before.Files {
		if !slices.ContainsFunc(r.Files, func(e export.Entry) bool { return e.Name == f.Name }) {
			_ = os.Remove(filepath.Join(dir, filepath.Base(f.Name))) // nobody is misled: the record does not name it
		}
	}
}

func fileSum(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
