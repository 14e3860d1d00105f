package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
)

// version is set when a release is built.
var version = "0.1.0"

type versionCmd struct{}

func (c *versionCmd) Run(d *desk) error {
	_, err := fmt.Fprintf(d.out, "heatwright %s, %s/%s, %s%s\n", version, runtime.GOOS, runtime.GOARCH, runtime.Version(), revision())
	return outside(err)
}

// revision returns the state of the source that was built, where it is known.
func revision() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 10 {
			return ", " + s.Value[:10]
		}
	}
	return ""
}
