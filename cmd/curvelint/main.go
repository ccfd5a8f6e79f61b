// Curvelint reads text scene files that animators export and gives notes on
// the motion, at the lines that cause it: in the terminal and in an editor.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"curvelint/diagnostics/config"
)

// The exit statuses; the higher one wins.
const (
	statusClean  = 0 // nothing at or above the bar
	statusNotes  = 1 // notes
	statusFailed = 2 // input that could not be read, or a wrong call
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	os.Exit(run(ctx, os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

// streams are the standard streams, or what stands for them in a test.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// status is an exit status on its way to main: everything has been said.
type status int

func (s status) Error() string { return fmt.Sprintf("exit status %d", int(s)) }

// run runs the program and returns its exit status.
func run(ctx context.Context, args []string, std streams) int {
	root := newRoot(std)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	var s status
	switch {
	case err == nil:
		return statusClean
	case errors.As(err, &s):
		return int(s)
	}
	fmt.Fprintf(std.err, "curvelint: %v\n", err)
	return statusFailed
}

// noSuchCommand says what may be meant by a word that is no command.
func noSuchCommand(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if _, err := os.Stat(args[0]); err == nil || isScene(args[0]) {
		return fmt.Errorf("unknown command %q; to check a file or folder, curvelint check %[1]s", args[0])
	}
	var known []string
	for _, c := range root.Commands() {
		known = append(known, c.Name())
	}
	return fmt.Errorf("unknown command %q; %s", args[0], config.Suggest(args[0], known))
}

// newRoot returns the command that holds all others, one file each.
func newRoot(std streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "curvelint",
		Short: "Notes on the motion in exported scenes",
		Long: `Curvelint reads text scene files that animators export and gives notes on the
motion, at the lines that cause it: equal spacing, parts that change together,
dead holds, sliding feet.`,
		Args:          noSuchCommand,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetIn(std.in)
	root.SetOut(std.out)
	root.SetErr(std.err)
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w; see %s --help", err, c.CommandPath())
	})
	root.AddCommand(newCheck(std), newCompare(std), newChart(std), newExplain(std), newFigures(std), newServe(std), newVersion(std), newView(std))
	return root
}
