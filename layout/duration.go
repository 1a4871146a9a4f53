package layout

import (
	"fmt"
	"time"
)

// FormatDuration writes a burn's length as people say it: `8 h 10 min`,
// `12 min`, `40 s`, rounded to the smallest unit shown. Less than nothing is
// `0 s`.
func FormatDuration(d time.Duration) string {
	seconds := max(d, 0).Round(time.Second) / time.Second
	if seconds < 60 {
		return fmt.Sprintf("%d s", seconds)
	}
	minutes := d.Round(time.Minute) / time.Minute
	switch hours, rest := minutes/60, minutes%60; {
	case hours == 0:
		return fmt.Sprintf("%d min", minutes)
	case rest == 0:
		return fmt.Sprintf("%d h", hours)
	default:
		return fmt.Sprintf("%d h %d min", hours, rest)
	}
}
