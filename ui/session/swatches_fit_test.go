package session

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCalibratedNames(t *testing.T) {
	for was, want := range map[string]string{
		"slate over cream":                          "slate over cream (calibrated 2026-01-02)",
		"slate over cream (starter values)":         "slate over cream (calibrated 2026-01-02)",
		"slate over cream (calibrated 2025-12-31)":  "slate over cream (calibrated 2026-01-02)",
		"slate (matt) over cream":                   "slate (matt) over cream (calibrated 2026-01-02)",
		"slate (matt), dark (starter values) extra": "slate (matt), dark (calibrated 2026-01-02)",
	} {
		require.Equal(t, want, calibratedName(was, "2026-01-02"))
	}
}
