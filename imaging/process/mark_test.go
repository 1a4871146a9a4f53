package process_test

import (
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/process"
)

func TestMain(m *testing.M) {
	if os.Getenv("UNDERCOAT_TEST_END_AT_ONCE") != "" {
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func TestThisProcessIsHere(t *testing.T) {
	m := process.Here()
	require.Equal(t, os.Getpid(), m.PID)
	require.NotEmpty(t, m.Host)
	require.Len(t, m.Place, 8)
	require.Equal(t, m, process.Here())
	require.False(t, m.Gone())
}

func TestAnEndedProcessIsGone(t *testing.T) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "UNDERCOAT_TEST_END_AT_ONCE=1")
	require.NoError(t, cmd.Run())
	m := process.Here()
	m.PID = cmd.Process.Pid
	require.True(t, m.Gone())
	m.Place = "elsewhere"
	require.False(t, m.Gone(), "on another computer nobody can tell")
}

func TestNoNumberOfAProcess(t *testing.T) {
	for _, pid := range []int{0, -1} {
		m := process.Here()
		m.PID = pid
		require.True(t, m.Gone(), pid)
	}
}

func TestTokensDiffer(t *testing.T) {
	require.NotEqual(t, process.Token(), process.Token())
	require.Len(t, process.Token(), 16)
}
