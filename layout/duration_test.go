package layout

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestFormatDuration(t *testing.T) {
	for _, test := range []struct {
		d    time.Duration
		want string
	}{
		{0, "0 s"},
		{-time.Hour, "0 s"},
		{400 * time.Millisecond, "0 s"},
		{40 * time.Second, "40 s"},
		{59*time.Second + 400*time.Millisecond, "59 s"},
		{59*time.Second + 600*time.Millisecond, "1 min"},
		{12 * time.Minute, "12 min"},
		{12*time.Minute + 31*time.Second, "13 min"},
		{59*time.Minute + 40*time.Second, "1 h"},
		{8*time.Hour + 10*time.Minute, "8 h 10 min"},
		{8 * time.Hour, "8 h"},
		{7*time.Hour + 59*time.Minute + 50*time.Second, "8 h"},
		{30*time.Hour + time.Minute, "30 h 1 min"},
	} {
		require.Equal(t, test.want, FormatDuration(test.d), test.d.String())
	}
}
