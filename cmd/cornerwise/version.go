package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
)

// A release has these three put in by the linker (.ci/release). Else they are "", and what the Go
// command noted of the checkout stands for them.
var (
	version string // 0.2.0, or 0.2.1-5.ga012b7d for the fifth commit after that
	commit  string // whole
	date    string // of the commit: 2026-11-26
)

// A build is what this program was made of.
type build struct{ version, commit, date string }

// thisBuild is "devel" where nothing is known: go run notes no commit.
func thisBuild() build {
	if version != "" {
		return build{version, commit, date}
	}
	b := build{version: "devel"}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return b
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			b.commit = s.Value
		case s.Key == "vcs.time" && len(s.Value) >= len("2026-11-26"):
			b.date = s.Value[:len("2026-11-26")]
		case s.Key == "vcs.modified" && s.Value == "true":
			b.version = "devel, changed"
		}
	}
	return b
}

// short is what the foot of a page says: 0.2.0, 2026-11-26.
func (b build) short() string {
	if b.date == "" {
		return b.version
	}
	return b.version + ", " + b.date
}

func printVersion(out io.Writer) error {
	b := thisBuild()
	said := "cornerwise " + b.short()
	if b.commit != "" {
		said += ", commit " + b.commit
	}
	_, err := fmt.Fprintf(out, "%s\n%s, %s/%s\n", said, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}
