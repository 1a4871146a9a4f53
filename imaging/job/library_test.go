package job_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/imaging/library"
)

// TestMain keeps the tests away from the library and the journals of whoever runs
// them: this process is the one that ends when the tests do.
func TestMain(m *testing.M) {
	if role := os.Getenv(killedRole); role != "" {
		workUntilKilled(role)
	}
	dir, err := os.MkdirTemp("", "undercoat-job")
	if err != nil {
		panic(err)
	}
	os.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "config"))
	os.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

func TestFindLooksInTheLibraryThenAmongStartersThenAtFiles(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Chdir(t.TempDir())
	navy, ok := assets.Stack("night-white-navy")
	require.True(t, ok)
	require.NoError(t, os.WriteFile("navy.json", navy, 0o600))
	require.NoError(t, os.WriteFile("slate-cream", navy, 0o600))

	s, err := job.FindStack("navy.json")
	require.NoError(t, err)
	require.Contains(t, s.Name, "navy")
	s, err = job.FindStack("slate-cream")
	require.NoError(t, err)
	require.Contains(t, s.Name, "slate", "a starter comes before a file")
	_, err = job.FindStack("none.json")
	require.EqualError(t, err, "there is no file none.json: check the name and the folder")
	_, err = job.FindStack("none")
	require.ErrorContains(t, err, `there is no stack called "none": choose one of`)

	_, err = library.Open().Save("slate-cream", navy, false)
	require.NoError(t, err)
	s, err = job.FindStack("slate-cream")
	require.NoError(t, err)
	require.Contains(t, s.Name, "navy", "the user's comes before a starter")
	require.NoError(t, library.Open().SetDefaults(library.Defaults{Panel: "tile-6in"}))
	_, title, err := job.FindPanel("")
	require.NoError(t, err)
	require.Contains(t, title, "tile")
}

func TestTheDemoDoesNotDependOnTheLibrary(t *testing.T) {
	before := written(t, demo(t))
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	navy, ok := assets.Stack("night-white-navy")
	require.True(t, ok)
	_, err := library.Open().Save(assets.DemoStack, navy, false)
	require.NoError(t, err)
	require.Equal(t, string(before), string(written(t, demo(t))))
}
