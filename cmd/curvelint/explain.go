package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"curvelint/diagnostics"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
)

func newExplain(std streams) *cobra.Command {
	return &cobra.Command{
		Use:   "explain [CHECK...]",
		Short: "Say what a check finds, why it matters and what to do",
		Long: `Explain prints the document of each check named: what it finds, why an audience
feels it, how to fix it, when to leave it, and its settings. Without a name it
lists all checks.`,
		Example: "  curvelint explain\n  curvelint explain even-spacing",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return checkIDs(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listChecks(std.out)
			}
			return explain(std.out, args)
		},
	}
}

// explain prints documents, an empty line between them.
func explain(w io.Writer, ids []string) error {
	if err := (diagnostics.Selection{Only: ids}).Validate(); err != nil {
		return err
	}
	for i, id := range ids {
		doc := strings.TrimSpace(checks.Find(id).Text()) + "\n"
		if i > 0 {
			doc = "\n" + doc
		}
		if _, err := io.WriteString(w, doc); err != nil {
			return err
		}
	}
	return nil
}

// listChecks prints a table of all checks by group.
func listChecks(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	group := kit.Group("")
	for _, c := range diagnostics.Checks() {
		if c.Group != group {
			if group != "" {
				fmt.Fprintln(t)
			}
			group = c.Group
			fmt.Fprintln(t, group)
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\n", c.ID, c.Severity, c.Title)
	}
	return t.Flush()
}

func checkIDs() []string {
	var ids []string
	for _, c := range diagnostics.Checks() {
		ids = append(ids, c.ID)
	}
	return ids
}
