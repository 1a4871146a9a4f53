package main

import (
	"fmt"
	"runtime/debug"
)

// What a build may set with -ldflags "-X main.version=1.2.3 -X main.commit=0123abc";
// without it they are taken from what Go itself puts into the program.
var version, commit string

// versionLine says which program this is.
func versionLine() string {
	v, c, changed := version, commit, ""
	if info, ok := debug.ReadBuildInfo(); ok {
		if v == "" && info.Main.Version != "(devel)" {
			v = info.Main.Version
		}
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision" && c == "":
				c = s.Value
			case s.Key == "vcs.modified" && s.Value == "true":
				changed = ", changed since"
			}
		}
	}
	if v == "" {
		v = "of no release"
	}
	if c == "" {
		c = "unknown"
	}
	return fmt.Sprintf("%s (commit %.12s%s)", v, c, changed)
}
