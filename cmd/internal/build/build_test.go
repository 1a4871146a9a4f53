package build

import (
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestLine(t *testing.T) {
	of := func(version string, settings ...string) *debug.BuildInfo {
		info := &debug.BuildInfo{Main: debug.Module{Version: version}}
		for i := 0; i < len(settings); i += 2 {
			info.Settings = append(info.Settings, debug.BuildSetting{Key: settings[i], Value: settings[i+1]})
		}
		return info
	}
	long := "0123456789abcdef0123456789abcdef01234567"
	cases := []struct {
		name, version, commit string
		info                  *debug.BuildInfo
		want                  string
	}{
		{"set by the linker", "1.2.3", "0123abc", nil, "1.2.3 (commit 0123abc)"},
		{"set, before what Go knows", "1.2.3", "0123abc", of("v9.9.9", "vcs.revision", long), "1.2.3 (commit 0123abc)"},
		{"installed by Go", "", "", of("v1.4.0"), "v1.4.0 (commit unknown)"},
		{"built in a clone", "", "", of("(devel)", "vcs.revision", long), "of no release (commit 0123456789ab)"},
		{"built in a clone with changes", "", "", of("(devel)", "vcs.revision", long, "vcs.modified", "true"), "of no release (commit 0123456789ab, changed since)"},
		{"nothing known", "", "", nil, "of no release (commit unknown)"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, line(c.version, c.commit, c.info)) })
	}
}
