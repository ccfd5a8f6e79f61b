// Package write writes a comparison of two passes: as text for an animator to read
// from the top, as JSON for programs, and as a page.
package write

import (
	"fmt"
	"io"

	"curvelint/diagnostics/passes"
)

// Formats are the names that Comparison knows.
var Formats = []string{"text", "json", "html"}

// Comparison writes c in the given format.
func Comparison(format string, w io.Writer, c *passes.Comparison) error {
	switch format {
	case "text":
		return Text(w, c)
	case "json":
		return JSON(w, c)
	case "html":
		return HTML(w, c)
	}
	return fmt.Errorf("unknown format %q; expected one of %q", format, Formats)
}
