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

	"undercoat/imaging/export"
)

// Extension is how the name of a job's file ends.
const Extension = ".undercoat"

// MaxFileBytes bounds what is read of a picture or of a job's file.
const MaxFileBytes = 1 << 30

const (
	documentName = "job.json"
	pictureName  = "picture"
)

// Job is a document with the bytes of its picture, as they came.
type Job struct {
	Document Document
	Picture  []byte
}

// Checksum is the SHA-256 of data in hex.
func Checksum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Write writes the job's file: a zip of job.json and the picture. Equal jobs
// give equal bytes.
func (j *Job) Write(w io.Writer) error {
	doc, err := j.Document.JSON()
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	for _, part := range []struct {
		name string
		data []byte
	}{{documentName, doc}, {pictureName, j.Picture}} {
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
	doc, err := zipPart(z, documentName)
	if err != nil {
		return nil, err
	}
	pic, err := zipPart(z, pictureName)
	if err != nil {
		return nil, err
	}
	d, err := ParseDocument(doc)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", documentName, err)
	}
	if got := Checksum(pic); got != d.Picture.SHA256 {
		return nil, fmt.Errorf("the picture in the job is damaged (checksum %.8s, not %.8s): put the picture %q in again", got, d.Picture.SHA256, d.Picture.Name)
	}
	return &Job{Document: d, Picture: pic}, nil
}

func zipPart(z *zip.Reader, name string) ([]byte, error) {
	f, err := z.Open(name)
	if err != nil {
		return nil, fmt.Errorf("the job holds no %s: it is damaged or was not written by Undercoat", name)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("the job's %s cannot be read (%w): the file is damaged", name, err)
	}
	if len(data) > MaxFileBytes {
		return nil, fmt.Errorf("the job's %s is over %d MiB: use a smaller picture", name, MaxFileBytes>>20)
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
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, fmt.Errorf("there is no file %s: check the name and the folder", path)
	case err != nil:
		return nil, fmt.Errorf("%s cannot be opened (%w): check that it may be read", path, errors.Unwrap(err))
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder: name a file in it", path)
	case info.Size() > MaxFileBytes:
		return nil, fmt.Errorf("%s is over %d MiB: use a smaller file", path, MaxFileBytes>>20)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read (%w): check that it may be read", path, errors.Unwrap(err))
	}
	return data, nil
}

// NameOf is the name a job takes from the file of its picture or its own.
func NameOf(path string) string {
	base := filepath.Base(path)
	if name := strings.TrimSuffix(base, filepath.Ext(base)); name != "" {
		return name
	}
	return "job"
}
