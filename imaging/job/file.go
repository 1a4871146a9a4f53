package job

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"undercoat/imaging/export"
	"undercoat/imaging/picture/lettering"
)

// Extension is how the name of a job's file ends.
const Extension = ".undercoat"

// MaxFileBytes bounds what is read of a picture or of a job's file.
const MaxFileBytes = 1 << 30

// maxDocumentBytes bounds job.json, which is some kilobytes long: a damaged or
// ill-meant zip can unfold to far more than it weighs.
const maxDocumentBytes = 16 << 20

const (
	documentName = "job.json"
	pictureName  = "picture"
	fontFolder   = "fonts/"    // and the font's name
	photoFolder  = "finished/" // and the photograph's checksum
)

// Job is a document with the bytes of its picture and of the maker's own fonts, as
// they came.
type Job struct {
	Document Document
	Picture  []byte            // nil: lettering alone
	Fonts    map[string][]byte // by name; nil for none
	Photos   map[string][]byte // of finished panels, by checksum; nil for none
}

// Checksum is the SHA-256 of data in hex.
func Checksum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// zipped is one file in the job's own.
type zipped struct {
	name string
	data []byte
}

// Write writes the job's file: a zip of job.json, the picture and the fonts. Equal
// jobs give equal bytes.
func (j *Job) Write(w io.Writer) error {
	doc, err := j.Document.JSON()
	if err != nil {
		return err
	}
	parts := []zipped{{documentName, doc}}
	if j.Document.HasPicture() {
		parts = append(parts, zipped{pictureName, j.Picture})
	}
	for _, f := range j.Document.Fonts {
		parts = append(parts, zipped{fontFolder + f.Name, j.Fonts[f.Name]})
	}
	written := map[string]bool{} // two panels may share a photograph
	for _, f := range j.Document.Finished {
		if !written[f.SHA256] {
			parts = append(parts, zipped{photoFolder + f.SHA256, j.Photos[f.SHA256]})
			written[f.SHA256] = true
		}
	}
	z := zip.NewWriter(w)
	for _, part := range parts {
		// Stored, not deflated: pictures are compressed already. No time, so
		// that the bytes depend on the job alone.
		f, err := z.CreateHeader(&zip.FileHeader{Name: part.name, Method: zip.Store})
		if err != nil {
			return err
		}
		if _, err := f.Write(part.data); err != nil {
			return err
		}
	}
	return z.Close()
}

// Parse reads a job from the bytes of its file.
func Parse(data []byte) (*Job, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, errors.New("this is not an Undercoat job, or it is damaged: open a file whose name ends in " + Extension)
	}
	doc, err := zipPart(z, documentName, maxDocumentBytes)
	if err != nil {
		return nil, err
	}
	d, err := ParseDocument(doc)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", documentName, err)
	}
	return withParts(d, func(name string, most int, checksum string) ([]byte, error) {
		return checkedPart(z, name, most, checksum)
	})
}

// withParts is the job of a document, with its picture, fonts and photographs as
// read gives them by their names in a job's file and their checksums.
func withParts(d Document, read func(name string, most int, checksum string) ([]byte, error)) (*Job, error) {
	j := &Job{Document: d}
	var err error
	if d.HasPicture() {
		if j.Picture, err = read(pictureName, MaxFileBytes, d.Picture.SHA256); err != nil {
			return nil, fmt.Errorf("picture %q: %w", d.Picture.Name, err)
		}
	}
	for _, f := range d.Fonts {
		data, err := read(fontFolder+f.Name, lettering.MaxFontBytes, f.SHA256)
		if err != nil {
			return nil, fmt.Errorf("font %q: %w", f.Name, err)
		}
		if j.Fonts == nil {
			j.Fonts = map[string][]byte{}
		}
		j.Fonts[f.Name] = data
	}
	for i, f := range d.Finished {
		data, err := read(photoFolder+f.SHA256, MaxFileBytes, f.SHA256)
		if err != nil {
			return nil, fmt.Errorf("photograph of panel %d: %w", i+1, err)
		}
		if j.Photos == nil {
			j.Photos = map[string][]byte{}
		}
		j.Photos[f.SHA256] = data
	}
	return j, nil
}

func checkedPart(z *zip.Reader, name string, most int, checksum string) ([]byte, error) {
	data, err := zipPart(z, name, most)
	if err != nil {
		return nil, err
	}
	if got := Checksum(data); got != checksum {
		return nil, fmt.Errorf("what the job holds of it is damaged (checksum %.8s, not %.8s): use a copy of the job, or put it in again", got, checksum)
	}
	return data, nil
}

func zipPart(z *zip.Reader, name string, most int) ([]byte, error) {
	f, err := z.Open(name)
	if err != nil {
		return nil, fmt.Errorf("the job holds no %s: it is damaged or was not written by Undercoat", name)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, int64(most)+1))
	if err != nil {
		return nil, fmt.Errorf("the job's %s cannot be read (%w): the file is damaged, use a copy of it", name, err)
	}
	if len(data) > most {
		return nil, fmt.Errorf("the job's %s is over %d MiB: make the job anew from a smaller picture", name, most>>20)
	}
	return data, nil
}

// Read reads the job kept in the file at path.
func Read(path string) (*Job, error) {
	data, err := ReadBytes(path)
	if err != nil {
		return nil, err
	}
	j, err := Parse(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return j, nil
}

// Save writes the job to path, whole or not at all.
func (j *Job) Save(path string, force bool) error {
	if err := j.Document.Validate(); err != nil {
		return err
	}
	return export.WriteFile(path, force, j.Write)
}

// ReadBytes reads a file that a person named, and says plainly why it cannot.
func ReadBytes(path string) ([]byte, error) {
	if path == "" {
		return nil, errors.New("the name of a file is empty: name the file to read")
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, fmt.Errorf("there is no file %s: check the name and the folder", path)
	case err != nil:
		return nil, fmt.Errorf("%s cannot be opened (%w): check that it may be read", path, errors.Unwrap(err))
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder: name a file in it", path)
	case info.Mode()&os.ModeDevice != 0:
		return nil, fmt.Errorf("%s is a device and has no end: name an ordinary file", path)
	case info.Size() > MaxFileBytes:
		return nil, tooLarge(path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read (%w): check that it may be read", path, errors.Unwrap(err))
	}
	defer f.Close()
	var data bytes.Buffer
	data.Grow(int(info.Size()) + bytes.MinRead)
	// Bounded, because a pipe or a file of the system's own tells no size.
	if _, err := data.ReadFrom(io.LimitReader(f, MaxFileBytes+1)); err != nil {
		return nil, fmt.Errorf("%s cannot be read (%w): check that it may be read", path, errors.Unwrap(err))
	}
	if data.Len() > MaxFileBytes {
		return nil, tooLarge(path)
	}
	return data.Bytes(), nil
}

func tooLarge(path string) error {
	return fmt.Errorf("%s is over %d MiB: use a smaller file", path, MaxFileBytes>>20)
}

// NameOf is the name a job takes from the file of its picture or its own.
func NameOf(path string) string {
	base := filepath.Base(path)
	name := strings.TrimSuffix(base, filepath.Ext(base))
	if name == "" {
		return "job"
	}
	for len(name) > maxNameBytes {
		_, last := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-last]
	}
	return name
}

// FileName is what the job's own file is called: its name, with a dash for what
// some file system does not take.
func (d Document) FileName() string {
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || unicode.IsControl(r) {
			return '-'
		}
		return r
	}, d.Name)
	if name = strings.Trim(name, " ."); name == "" {
		name = "job"
	}
	return name + Extension
}
