package build

import (
	"fmt"
	"runtime/debug"
)

// What a build may set with -ldflags "-X undercoat/cmd/internal/build.version=1.2.3
// -X undercoat/cmd/internal/build.commit=0123abc"; without it they are taken from what
// Go itself puts into the program.
var version, commit string

// Line is the version with the commit it was built from, in words where there is none.
func Line() string {
	info, _ := debug.ReadBuildInfo()
	return line(version, commit, info)
}

// line takes from info, which may be nil, what was not set.
func line(version, commit string, info *debug.BuildInfo) string {
	changed := ""
	if info != nil {
		if version == "" && info.Main.Version != "(devel)" {
			version = info.Main.Version
		}
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision" && commit == "":
				commit = s.Value
			case s.Key == "vcs.modified" && s.Value == "true":
				changed = ", changed since"
			}
		}
	}
	if version == "" {
		version = "of no release"
	}
	if commit == "" {
		commit = "unknown"
	}
	return fmt.Sprintf("%s (commit %.12s%s)", version, commit, changed)
}
