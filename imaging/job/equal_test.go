package job_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSettingsOfEqualDoseGiveTheDose(t *testing.T) {
	d := demo(t).Document
	want := d.Recipe().FullDose()
	table, err := d.EqualDose()
	require.NoError(t, err)
	require.Greater(t, len(table), 3)
	own := false
	for _, e := range table {
		d.Setting = e.Setting
		require.NoError(t, d.Setting.Validate(d.Machine))
		require.InEpsilon(t, want, d.Recipe().FullDose(), 1e-9)
		pl, err := d.Placement()
		require.NoError(t, err)
		require.InDelta(t, d.BurnTime(pl.Grid, nil).Seconds(), e.Time.Seconds(), 1)
		own = own || e.Setting == demo(t).Document.Setting
	}
	require.True(t, own, "the job's own setting is in the table")
}
