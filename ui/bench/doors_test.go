package bench

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// pngHeader is a PNG that ends after a header which claims a size.
func pngHeader(w, h uint32) []byte {
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n")
	ihdr := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)...)
	ihdr = append(ihdr, 8, 2, 0, 0, 0)
	binary.Write(&b, binary.BigEndian, uint32(13))
	b.Write(ihdr)
	binary.Write(&b, binary.BigEndian, crc32.ChecksumIEEE(ihdr))
	return b.Bytes()
}

// savedJob is the bytes of a job's file.
func savedJob(t *testing.T, d *desk) []byte {
	t.Helper()
	j, _ := d.s.Job()
	var b bytes.Buffer
	require.NoError(t, j.Write(&b))
	return b.Bytes()
}

// Whatever is asked of the window or dropped on it, one clear sentence says what is
// wrong and what to do next, the job stays as it was and the window lives.
func TestBadFilesAreRefusedInPlainWords(t *testing.T) {
	files := map[string]func(d *desk) string{
		"no such file":           func(d *desk) string { return filepath.Join(d.t.TempDir(), "gone.jpg") },
		"no such job":            func(d *desk) string { return filepath.Join(d.t.TempDir(), "gone.undercoat") },
		"a folder":               func(d *desk) string { return d.t.TempDir() },
		"a picture of no bytes":  func(d *desk) string { return d.file("empty.png", nil) },
		"a job of no bytes":      func(d *desk) string { return d.file("empty.undercoat", nil) },
		"a truncated JPEG":       func(d *desk) string { data := photo(d.t, 400, 300); return d.file("half.jpg", data[:len(data)/2]) },
		"a truncated PNG":        func(d *desk) string { data := pngOf(d.t, 400, 300); return d.file("half.png", data[:len(data)/2]) },
		"text called a PNG":      func(d *desk) string { return d.file("letter.png", []byte("Dear Sir or Madam,\n")) },
		"text called a job":      func(d *desk) string { return d.file("letter.undercoat", []byte("Dear Sir or Madam,\n")) },
		"a PNG of 60000 x 60000": func(d *desk) string { return d.file("huge.png", pngHeader(60000, 60000)) },
		"a picture of one pixel": func(d *desk) string { return d.file("dot.png", pngOf(d.t, 1, 1)) },
		"a job cut short":        func(d *desk) string { data := savedJob(d.t, d); return d.file("short.undercoat", data[:len(data)-40]) },
		"a job with a byte gone wrong": func(d *desk) string {
			data := savedJob(d.t, d)
			data[len(data)/2] ^= 0xff
			return d.file("flipped.undercoat", data)
		},
		"a job with a wrong document": func(d *desk) string {
			j, _ := d.s.Job()
			j.Document.Setting.PowerPercent = 130
			var b bytes.Buffer
			require.NoError(d.t, j.Write(&b))
			return d.file("strong.undercoat", b.Bytes())
		},
	}
	doors := map[string]func(d *desk, path string){
		"open": func(d *desk, path string) { d.OpenPath(path) },
		"drop": func(d *desk, path string) { d.drop(path) },
	}
	for door, let := range doors {
		d := newDesk(t)
		before, pic := d.s.Job()
		for name, file := range files {
			t.Run(name+"/"+door, func(t *testing.T) {
				d.t = t
				d.notice.Hide()
				let(d, file(d))
				d.loaded()
				text, next := d.notice.Said()
				requirePlain(t, text, "it says what is wrong")
				requirePlain(t, next, "and what to do next")

				after, same := d.s.Job()
				require.Equal(t, before, after)
				require.Same(t, pic, same)
				require.False(t, d.s.Dirty())
				require.Empty(t, d.s.Path())
			})
		}
		d.t = t
		d.OpenPath(d.file("good.png", pngOf(t, 64, 64)))
		d.loaded()
		require.Empty(t, d.says(), "the window goes on")
		require.Equal(t, "good.png", d.s.Document().Picture.Name)
		d.settle()
	}
}

// requirePlain checks that a text is one sentence.
func requirePlain(t *testing.T, text, why string) {
	t.Helper()
	require.Regexp(t, `^[^\n]{10,}[^.]\.$`, text, why)
	require.NotRegexp(t, `\. [A-Z]`, text, why)
	require.NotContains(t, text, "%!", "a format gone wrong")
}

func TestAPictureIsOpenedAsOneStep(t *testing.T) {
	d := newDesk(t)
	d.drop(d.file("harbour at noon.jpg", photo(t, 200, 500)))
	require.Contains(t, d.status.reads, "harbour at noon.jpg")
	d.loaded()
	doc := d.s.Document()
	require.Equal(t, "harbour at noon.jpg", doc.Picture.Name)
	require.Equal(t, "harbour at noon", doc.Name, "a job without a file is called after its picture")
	require.Equal(t, "harbour at noon * - Undercoat", d.win.Title())
	aspect, err := doc.Aspect()
	require.NoError(t, err)
	require.NoError(t, doc.Picture.Crop.Validate(200, 500, aspect))
	require.Equal(t, "harbour at noon.jpg", d.Drawers()[pictureNth].Summary())
	d.undo()
	d.loop.turn()
	require.Equal(t, "photo.jpeg", d.s.Document().Picture.Name)
	require.Equal(t, "job - Undercoat", d.win.Title())
}

func TestTheFileAskedForLastCounts(t *testing.T) {
	d := newDesk(t)
	d.OpenPath(d.file("first.png", pngOf(t, 900, 900)))
	d.OpenPath(d.file("second.png", pngOf(t, 64, 64)))
	d.until("the second picture", func() bool { return d.s.Document().Picture.Name == "second.png" })
	d.loaded()
	d.Close() // waits for the first, should it still be read
	require.Equal(t, "second.png", d.s.Document().Picture.Name)
}

// changed is a desk whose job has changes that are not saved, and the path of
// another job's file.
func changed(t *testing.T) (d *desk, other string) {
	d = newDesk(t)
	other = d.file("other.undercoat", savedJob(t, d))
	d.enter("Border", "9")
	require.True(t, d.s.Dirty())
	return d, other
}

func TestAJobWithChangesIsNotThrownAway(t *testing.T) {
	const stay, drop, save = "Keep working", "Do not save", "Save"
	leave := map[string]struct {
		by   func(d *desk, other string)
		left func(d *desk) bool
	}{
		"for another job": {func(d *desk, other string) { d.OpenPath(other) }, func(d *desk) bool { d.loaded(); return filepath.Base(d.s.Path()) == "other.undercoat" }},
		"by closing":      {func(d *desk, _ string) { d.win.closing() }, func(d *desk) bool { return d.quits == 1 }},
		"by quitting":     {func(d *desk, _ string) { d.Quit() }, func(d *desk) bool { return d.quits == 1 }},
	}
	for name, l := range leave {
		t.Run(name+"/"+stay, func(t *testing.T) {
			d, other := changed(t)
			l.by(d, other)
			require.Len(t, d.asking, 1)
			d.tap(stay)
			require.Empty(t, d.asking)
			require.False(t, l.left(d))
			require.Equal(t, layout.Even(9), d.s.Document().Border)
		})
		t.Run(name+"/Escape", func(t *testing.T) {
			d, other := changed(t)
			l.by(d, other)
			l.by(d, other)
			require.Len(t, d.asking, 1, "it asks once")
			d.escape()
			require.Empty(t, d.asking)
			require.False(t, l.left(d))
		})
		t.Run(name+"/"+drop, func(t *testing.T) {
			d, other := changed(t)
			l.by(d, other)
			d.tap(drop)
			require.True(t, l.left(d))
			require.Empty(t, d.asking)
		})
		t.Run(name+"/"+save, func(t *testing.T) {
			d, other := changed(t)
			mine := filepath.Join(t.TempDir(), "mine.undercoat")
			require.NoError(t, d.s.Save(mine))
			d.enter("Border", "10")
			l.by(d, other)
			d.tapIn("Unsaved changes", save)
			require.True(t, l.left(d))
			kept, err := job.Read(mine)
			require.NoError(t, err)
			require.Equal(t, layout.Even(10), kept.Document.Border)
		})
		t.Run(name+"/saved already", func(t *testing.T) {
			d, other := changed(t)
			require.NoError(t, d.s.Save(filepath.Join(t.TempDir(), "mine.undercoat")))
			l.by(d, other)
			require.Empty(t, d.asking)
			require.True(t, l.left(d))
		})
	}
}

// What cannot be saved is not left either.
func TestAFailedSaveKeepsTheJob(t *testing.T) {
	d, _ := changed(t)
	dir := t.TempDir()
	mine := filepath.Join(dir, "mine.undercoat")
	require.NoError(t, d.s.Save(mine))
	require.NoError(t, os.Remove(mine))
	require.NoError(t, os.Mkdir(mine, 0o777)) // now a folder stands in the way
	d.enter("Border", "10")
	d.Quit()
	d.tapIn("Unsaved changes", "Save")
	require.Zero(t, d.quits)
	require.Contains(t, d.says(), "mine.undercoat")
	require.Equal(t, layout.Even(10), d.s.Document().Border)
}
