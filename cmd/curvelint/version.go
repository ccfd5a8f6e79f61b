package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// version is that of the next or latest release; see CHANGELOG in README.md.
const version = "0.1.0"

func newVersion(std streams) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintf(std.out, "curvelint %s%s %s %s/%s\n", version, revision(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
			return err
		},
	}
}

// revision returns the revision that the program was built from, with a space
// before it, if it is known.
func revision() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			return " (" + s.Value[:12] + ")"
		}
	}
	return ""
}
