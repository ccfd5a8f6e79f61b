package write

import (
	"bufio"
	"fmt"
	"io"

	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/report"
)

// Text writes a comparison for people: what matters to the whole shot first, then
// the parts that are seen most.
func Text(w io.Writer, c *passes.Comparison) error {
	b := bufio.NewWriter(w)
	title, lines := Heading(c)
	fmt.Fprintln(b, report.Visible(title))
	for _, l := range lines {
		fmt.Fprintln(b, report.Visible(l))
	}
	for _, s := range sections(c) {
		fmt.Fprintf(b, "\n%s\n", s.Title)
		for _, it := range s.Items {
			indent := "  "
			if it.Name != "" {
				fmt.Fprintf(b, "  %s\n", report.Visible(it.Name))
				indent = "    "
			}
			for _, l := range it.Lines {
				fmt.Fprintf(b, "%s%s\n", indent, report.Visible(l))
			}
		}
		if s.More != "" {
			fmt.Fprintf(b, "  %s\n", s.More)
		}
	}
	return b.Flush()
}
