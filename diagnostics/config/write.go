package config

import (
	"fmt"
	"strings"
)

// TOML returns the allowance as an entry to append to a curvelint.toml. It reads
// back as the same allowance.
func (a *Allow) TOML() string {
	var b strings.Builder
	b.WriteString("[[allow]]\n")
	line := func(key, value string) { fmt.Fprintf(&b, "%s = %s\n", key, value) }
	line("check", quote(a.Check))
	line("match", globsTOML(a.Match))
	if len(a.File) > 0 {
		line("file", globsTOML(a.File))
	}
	if a.HasFrames {
		line("frames", quote(a.Frames.String()))
	}
	if a.HasStroke {
		line("stroke", quote(a.Stroke.String()))
	}
	line("why", quote(a.Why))
	return b.String()
}

// Comment returns the allowance as the text of a comment in a scene file,
// without the marks that begin and end a comment there. The part is the one
// whose block it stands in.
func (a *Allow) Comment() string {
	s := "curvelint: allow " + a.Check
	if a.HasFrames {
		s += " " + a.Frames.String()
	}
	// Two hyphens may not stand in a comment of XML.
	why := strings.Join(strings.Fields(a.Why), " ")
	for strings.Contains(why, "--") {
		why = strings.ReplaceAll(why, "--", "-")
	}
	return s + " because " + why
}

func globsTOML(g Globs) string {
	texts := make([]string, len(g))
	for i := range g {
		texts[i] = quote(g[i].text)
	}
	if len(texts) == 1 {
		return texts[0]
	}
	return "[" + strings.Join(texts, ", ") + "]"
}

// quote writes a TOML string: a literal one when that reads more easily.
func quote(s string) string {
	if strings.Contains(s, `\`) && !strings.Contains(s, "'") && !strings.ContainsFunc(s, control) {
		return "'" + s + "'"
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case control(r):
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

func control(r rune) bool { return r < ' ' || r == 0x7F }
