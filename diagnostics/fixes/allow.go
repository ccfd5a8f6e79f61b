package fixes

import (
	"bytes"

	"curvelint/diagnostics/config"
	"curvelint/parse/scene"
)

// DefaultReason stands in an allowance until somebody writes a better one.
const DefaultReason = "meant like this"

// AppendAllow returns what to add at the end of a curvelint.toml with the given
// text, so that the entry begins behind an empty line.
func AppendAllow(a *config.Allow, text []byte) string {
	switch {
	case len(text) == 0 || bytes.HasSuffix(text, []byte("\n\n")):
		return a.TOML()
	case bytes.HasSuffix(text, []byte("\n")):
		return "\n" + a.TOML()
	}
	return "\n\n" + a.TOML()
}

// AllowComment returns the edit that writes an allowance as a comment inside
// the block of a part; ok is false in formats without such comments, and when
// the part has no block.
func AllowComment(sc *scene.Scene, a *config.Allow, part scene.PartID) (Edit, bool) {
	if sc.Format != "usda" || part == scene.NoPart {
		return Edit{}, false
	}
	p := &sc.Parts[part]
	if p.Def.File != p.Body.File || p.Def.End > p.Body.End {
		return Edit{}, false
	}
	text := sc.Files[p.Body.File].Text
	at := opening(text, int(p.Def.End), int(p.Body.End))
	if at < 0 {
		return Edit{}, false
	}
	space := indent(text, at)
	comment := "\n" + space + "# " + a.Comment()
	if at < len(text) && text[at] != '\n' && text[at] != '\r' {
		comment += "\n" + space // the block's first word goes to the next line
	}
	return Edit{scene.Span{File: p.Body.File, Start: uint32(at), End: uint32(at)}, comment}, true
}

// opening returns the offset behind the bracket that opens a prim's block,
// past its metadata in parentheses; -1 if there is none.
func opening(text []byte, from, to int) int {
	depth := 0
	for i := from; i < to; i++ {
		switch text[i] {
		case '(':
			depth++
		case ')':
			depth--
		case '"':
			if end := bytes.IndexByte(text[i+1:to], '"'); end >= 0 {
				i += end + 1
			}
		case '{':
			if depth == 0 {
				return i + 1
			}
		}
	}
	return -1
}

// indent returns the white space in front of what stands on the lines behind
// an offset: that of the first line that is not empty.
func indent(text []byte, at int) string {
	for {
		i := bytes.IndexByte(text[at:], '\n')
		if i < 0 {
			return ""
		}
		at += i + 1
		rest := bytes.TrimLeft(text[at:], " \t")
		if len(rest) > 0 && rest[0] != '\n' && rest[0] != '\r' {
			return string(text[at : len(text)-len(rest)])
		}
	}
}
