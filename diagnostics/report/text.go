package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"curvelint/diagnostics/note"
)

// textWriter writes one line for each note, in the GNU form
// file:line:column: message, and its related places below it.
type textWriter struct {
	w     io.Writer
	color bool
}

// The escape sequences of ECMA-48, "select graphic rendition".
const (
	plain   = "\x1b[0m"
	bold    = "\x1b[1m"
	faint   = "\x1b[2m"
	red     = "\x1b[31m"
	yellow  = "\x1b[33m"
	blue    = "\x1b[34m"
	magenta = "\x1b[35m"
)

var severityColor = map[note.Severity]string{
	note.Error: red, note.Warning: yellow, note.Information: blue, note.Hint: magenta,
}

func (t *textWriter) File(f *File) error {
	b := bufio.NewWriter(t.w)
	for i := range f.Notes {
		n := &f.Notes[i]
		where := fmt.Sprintf("%s:%d:%d:", visible(n.Path), n.Start.Line, n.Start.Column)
		fmt.Fprintf(b, "%s %s %s %s\n", t.dye(bold, where), t.dye(severityColor[n.severity], n.Severity+":"),
			visible(n.Message), t.dye(faint, "["+n.Check+"]"))
		for j := range n.Related {
			r := &n.Related[j]
			if saidBefore(n.Related[:j], r) {
				continue
			}
			line := fmt.Sprintf("    %s:%d:%d: %s", visible(r.Path), r.Start.Line, r.Start.Column, visible(r.Message))
			fmt.Fprintln(b, t.dye(faint, line))
		}
	}
	return b.Flush()
}

// saidBefore reports whether a line would say again what one above it says: in some
// formats all keys of a channel are one place.
func saidBefore(above []Related, r *Related) bool {
	return slices.ContainsFunc(above, func(a Related) bool {
		return a.Path == r.Path && a.Start == r.Start && a.Message == r.Message
	})
}

func (t *textWriter) Close() error { return nil }

func (t *textWriter) dye(color, s string) string {
	if !t.color || color == "" {
		return s
	}
	return color + s + plain
}

// Visible shows in s what would not be seen on a terminal, or would steer it, as
// escapes.
func Visible(s string) string { return visible(s) }

// visible shows what would not be seen, or would steer a terminal: names come
// from files that anybody may have written.
func visible(s string) string {
	clean := true
	for _, r := range s {
		if !shown(r) {
			clean = false
			break
		}
	}
	if clean {
		return s
	}
	var b strings.Builder
	for i, r := range s {
		switch {
		case r == utf8.RuneError && s[i] != 0xEF:
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case shown(r):
			b.WriteRune(r)
		case r < 0x100:
			fmt.Fprintf(&b, `\x%02x`, r)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

// shown reports whether a character prints as itself. Marks that reorder text
// (category Cf) do not.
func shown(r rune) bool { return r != utf8.RuneError && (r == ' ' || unicode.IsGraphic(r)) }
