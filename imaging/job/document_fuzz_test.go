package job_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
)

// FuzzParseDocument reads any bytes as a job's document. What it accepts is valid,
// and written and read again it is the same.
func FuzzParseDocument(f *testing.F) {
	d := plain(f, 100, 80, 0.1)
	data, err := d.JSON()
	require.NoError(f, err)
	f.Add(data)
	f.Add(bytes.Replace(data, []byte(`"version": `), []byte(`"version": 9`), 1))
	f.Add(bytes.ReplaceAll(data, []byte("0"), []byte("-1e308")))
	f.Add([]byte(`{"kind":"undercoat-job","version":1}`))
	f.Add([]byte("{}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := job.ParseDocument(data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.NoError(t, d.Validate())
		once, err := d.JSON()
		require.NoError(t, err)
		again, err := job.ParseDocument(once)
		require.NoError(t, err)
		twice, err := again.JSON()
		require.NoError(t, err)
		require.Equal(t, string(once), string(twice))
	})
}

// FuzzJobFile reads any bytes as a job's file, from a real one on.
func FuzzJobFile(f *testing.F) {
	old, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", "version-1.undercoat"))
	require.NoError(f, err)
	f.Add(old)
	f.Add(old[:len(old)/2])
	f.Add(append(bytes.Clone(old[len(old)/2:]), old...))
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := job.Parse(data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.NoError(t, j.Document.Validate())
		var out bytes.Buffer
		require.NoError(t, j.Write(&out))
		_, err = job.Parse(out.Bytes())
		require.NoError(t, err)
	})
}
