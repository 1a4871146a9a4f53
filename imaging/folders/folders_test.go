package folders_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/folders"
)

// Source: freedesktop.org, XDG Base Directory Specification 0.8, environment variables.
func TestTheEnvironmentNamesTheFolders(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "config"))
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	require.Equal(t, filepath.Join(dir, "config", "undercoat"), folders.Config())
	require.Equal(t, filepath.Join(dir, "state", "undercoat"), folders.State())
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "other"))
	require.Equal(t, filepath.Join(dir, "other", "undercoat"), folders.Config(), "read anew at each call")
	require.NoDirExists(t, filepath.Join(dir, "other"), "nothing is made by asking")
}

func TestARelativeFolderIsNotTaken(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", "here")
	require.True(t, filepath.IsAbs(folders.Config()), folders.Config())
}
