package main

import (
	"fmt"
	"io"
	"net"
	"os"

	"github.com/spf13/cobra"

	"curvelint/server"
)

func newServe(std streams) *cobra.Command {
	var listen string
	var trace bool
	c := &cobra.Command{
		Use:   "serve",
		Short: "Show notes in an editor that speaks the Language Server Protocol",
		Long: `Serve talks to an editor over standard input and output, as the Language Server
Protocol says. Editors start it themselves; server/editors in the source has
the settings for several.

With --listen it waits for connections on an address of this machine instead,
one session each, which is of use for looking into a session.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			o := server.Options{Version: version, Log: std.err, Trace: trace}
			if listen != "" {
				return server.Listen(c.Context(), listen, o, func(a net.Addr) {
					fmt.Fprintf(std.err, "curvelint: listening on %s\n", a)
				})
			}
			if code := server.Serve(c.Context(), wire{std.in, std.out}, o); code != 0 {
				return status(code)
			}
			return nil
		},
	}
	c.Flags().StringVar(&listen, "listen", "", "listen on an `address` such as 127.0.0.1:4389 instead of standard input and output")
	c.Flags().BoolVar(&trace, "trace", false, "write every message to standard error")
	return c
}

// wire is standard input and output as one connection.
type wire struct {
	io.Reader
	io.Writer
}

// Close closes standard input.
func (w wire) Close() error {
	if f, ok := w.Reader.(*os.File); ok {
		return f.Close()
	}
	return nil
}
