package job_test

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
)

func demo(t testing.TB) *job.Job {
	t.Helper()
	j, _, err := job.Demo(t.Context())
	require.NoError(t, err)
	return j
}

func written(t testing.TB, j *job.Job) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, j.Write(&b))
	return b.Bytes()
}

func TestJobFileRoundTrip(t *testing.T) {
	j := demo(t)
	data := written(t, j)
	back, err := job.Parse(data)
	require.NoError(t, err)
	require.Equal(t, j.Document, back.Document)
	require.True(t, bytes.Equal(j.Picture, back.Picture))
	require.True(t, bytes.Equal(data, written(t, back)), "equal jobs give equal bytes")
}

func TestJobFileIsAnOrdinaryZip(t *testing.T) {
	data := written(t, demo(t))
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
	}
	require.Equal(t, []string{"job.json", "picture"}, names)
}

// rezipped is the job's file with one of its parts changed; nil leaves it out.
func rezipped(t *testing.T, j *job.Job, name string, change func([]byte) []byte) []byte {
	t.Helper()
	doc, err := j.Document.JSON()
	require.NoError(t, err)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for part, data := range map[string][]byte{"job.json": doc, "picture": j.Picture} {
		if part == name {
			if data = change(data); data == nil {
				continue
			}
		}
		w, err := z.Create(part)
		require.NoError(t, err)
		_, err = w.Write(data)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func TestDamagedJobsSayWhatIsWrong(t *testing.T) {
	j := demo(t)
	replace := func(old, now string) func([]byte) []byte {
		return func(data []byte) []byte {
			out := bytes.Replace(data, []byte(old), []byte(now), 1)
			require.NotEqual(t, string(data), string(out))
			return out
		}
	}
	for name, c := range map[string]struct {
		part   string
		change func([]byte) []byte
		want   string
	}{
		"no document":     {"job.json", func([]byte) []byte { return nil }, "holds no job.json"},
		"no picture":      {"picture", func([]byte) []byte { return nil }, "holds no picture"},
		"changed picture": {"picture", func(b []byte) []byte { return b[:len(b)-1] }, "checksum"},
		"other kind":      {"job.json", replace("undercoat-job", "shopping-list"), `kind is "shopping-list"`},
		"newer version":   {"job.json", replace(`"version": 2`, `"version": 99`), "newer Undercoat"},
		"unknown field":   {"job.json", replace(`"one_way"`, `"other_way"`), "screen.other_way is not known"},
		"wide border":     {"job.json", replace(`"left": 6`, `"left": 600`), "border"},
		"power":           {"job.json", replace(`"power_percent": 60`, `"power_percent": 130`), "power"},
		"pitch":           {"job.json", replace(`"pitch_mm": 0.08`, `"pitch_mm": 0`), "pitch"},
		"unit":            {"job.json", replace(`"unit": "mm"`, `"unit": "ell"`), "unit"},
		"screen":          {"job.json", replace(`"kind": "floyd-steinberg"`, `"kind": "magic"`), "screen"},
		"burns":           {"job.json", replace(`"burns": "by-stack"`, `"burns": "all"`), "burns"},
		"tones":           {"job.json", replace(`"tones": "even"`, `"tones": "odd"`), "tones"},
		"quarter turns":   {"job.json", replace(`"quarter_turns": 0`, `"quarter_turns": 4`), "quarter_turns is 4"},
		"no border": {"job.json", func(data []byte) []byte {
			return regexp.MustCompile(`(?s)"border_mm": \{.*?\}`).ReplaceAll(data, []byte(`"border_mm": null`))
		}, "border_mm is null"},
		"half a border":  {"job.json", replace(`"top": 6,`, ``), "border_mm.top is missing"},
		"no paper":       {"job.json", replace(`"under_transparency": "#ffffff",`, ``), "picture.under_transparency is missing"},
		"name of blanks": {"job.json", replace(`"name": "lighthouse"`, `"name": "  "`), "name is empty"},
		"name of lines":  {"job.json", replace(`"name": "lighthouse"`, `"name": "light\nhouse"`), "line break"},
		"endless name":   {"job.json", replace(`"name": "lighthouse"`, `"name": "`+strings.Repeat("x", 201)+`"`), "shorten it to 200"},
		"endless text":   {"job.json", func([]byte) []byte { return make([]byte, 16<<20+1) }, "job.json is over 16 MiB"},
		"not json":       {"job.json", func([]byte) []byte { return []byte("hello") }, "not JSON"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := job.Parse(rezipped(t, j, c.part, c.change))
			require.ErrorContains(t, err, c.want)
		})
	}
	for name, data := range map[string][]byte{"empty": nil, "text": []byte("a letter"), "cut": written(t, j)[:1000]} {
		t.Run(name, func(t *testing.T) {
			_, err := job.Parse(data)
			require.ErrorContains(t, err, "not an Undercoat job")
		})
	}
}

func TestSaveRefusesToReplaceUnasked(t *testing.T) {
	j := demo(t)
	path := filepath.Join(t.TempDir(), "a.undercoat")
	require.NoError(t, j.Save(path, false))
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Error(t, j.Save(path, false))
	j.Document.Name = "other"
	require.NoError(t, j.Save(path, true))
	back, err := job.Read(path)
	require.NoError(t, err)
	require.Equal(t, "other", back.Document.Name)
	require.NotEqual(t, before, written(t, back))
}

func TestReadBytesSaysWhy(t *testing.T) {
	dir := t.TempDir()
	_, err := job.ReadBytes(filepath.Join(dir, "none.jpg"))
	require.ErrorContains(t, err, "there is no file")
	_, err = job.ReadBytes(dir)
	require.ErrorContains(t, err, "is a folder")
	_, err = job.ReadBytes("")
	require.EqualError(t, err, "the name of a file is empty: name the file to read")
	if _, err := os.Stat("/dev/zero"); err == nil {
		_, err = job.ReadBytes("/dev/zero")
		require.EqualError(t, err, "/dev/zero is a device and has no end: name an ordinary file")
	}
}

func TestFileNamesAreFitForEveryFileSystem(t *testing.T) {
	for name, want := range map[string]string{
		"lighthouse":      "lighthouse.undercoat",
		"Möwe 🐦":          "Möwe 🐦.undercoat",
		"a/b\\c:d*e?":     "a-b-c-d-e-.undercoat",
		`<"|>`:            "----.undercoat",
		"..":              "job.undercoat",
		" ends in a dot.": "ends in a dot.undercoat",
		"../../etc":       "-..-etc.undercoat",
	} {
		require.Equal(t, want, job.Document{Name: name}.FileName())
	}
}

func TestNameOf(t *testing.T) {
	for path, want := range map[string]string{
		"boat.undercoat":                   "boat",
		"a/b c/Möwe.jpeg":                  "Möwe",
		".undercoat":                       "job",
		"none":                             "none",
		strings.Repeat("ö", 120) + ".jpeg": strings.Repeat("ö", 100),
		"x" + strings.Repeat("ö", 120):     "x" + strings.Repeat("ö", 99),
	} {
		require.Equal(t, want, job.NameOf(path))
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("PK\x05\x06"))
	f.Fuzz(func(_ *testing.T, data []byte) {
		_, _ = job.Parse(data) // must not panic
	})
}
