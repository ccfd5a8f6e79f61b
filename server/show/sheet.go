package show

import (
	"strings"
	"unicode"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/report"
)

// Sheet is what a hover shows: a name with what stands beside it, then facts,
// notes and a picture below each other. Its texts are plain, from files that
// anybody may have written; what is markup is put in when it is written.
type Sheet struct {
	name, beside string
	facts, notes []sheetLine
	picture      string // Markdown, for clients that show pictures
}

// sheetLine is a line of text, perhaps with something after it that is to be
// read letter by letter: numbers to retype, bars, the id of a check.
type sheetLine struct{ text, code string }

func (h *Sheet) fact(lines ...string) {
	for _, l := range lines {
		if l != "" {
			h.facts = append(h.facts, sheetLine{text: l})
		}
	}
}

// Content returns a sheet as Markdown or as plain text.
func (h *Sheet) Content(markdown bool) *protocol.MarkupContent {
	if markdown {
		return &protocol.MarkupContent{Kind: protocol.MarkupKindMarkdown, Value: h.markdown()}
	}
	return &protocol.MarkupContent{Kind: protocol.MarkupKindPlainText, Value: h.plain()}
}

// markdown writes a sheet with its parts as paragraphs.
func (h *Sheet) markdown() string {
	first := "**" + escaped(h.name) + "** " + escaped(h.beside)
	if h.picture != "" { // what is far down is not in sight
		first += "\n\n" + h.picture + "\n"
	}
	parts := []string{paragraph(append([]string{first}, markdownLines(h.facts)...))}
	if len(h.notes) > 0 {
		parts = append(parts, paragraph(markdownLines(h.notes)))
	}
	return strings.Join(parts, "\n\n")
}

// paragraph keeps the ends of lines, which Markdown would make spaces.
func paragraph(lines []string) string { return strings.Join(lines, "  \n") }

func markdownLines(list []sheetLine) []string {
	out := make([]string, len(list))
	for i, l := range list {
		out[i] = escaped(l.text)
		if l.code != "" {
			out[i] = strings.TrimSpace(out[i] + " `" + strings.ReplaceAll(report.Visible(l.code), "`", "'") + "`")
		}
	}
	return out
}

// plain writes a sheet as text.
func (h *Sheet) plain() string {
	lines := []string{report.Visible(h.name + " " + h.beside)}
	for _, list := range [][]sheetLine{h.facts, h.notes} {
		for _, l := range list {
			lines = append(lines, report.Visible(strings.TrimSpace(l.text+" "+l.code)))
		}
	}
	return strings.Join(lines, "\n")
}

// escaped writes a text so that Markdown shows it as it is. Only what would be
// taken for markup is marked, since some editors show the marks.
func escaped(text string) string {
	text = report.Visible(text)
	if !strings.ContainsAny(text, "\\`*_[]<&") {
		return text
	}
	var b strings.Builder
	runes := []rune(text)
	for i, r := range runes {
		switch r {
		case '\\', '`', '*', '[', ']', '<', '&':
			b.WriteByte('\\')
		case '_': // inside a word it is no markup
			if i == 0 || i == len(runes)-1 || !wordRune(runes[i-1]) || !wordRune(runes[i+1]) {
				b.WriteByte('\\')
			}
		}
		b.WriteRune(r)
	}
	return b.String()
}

func wordRune(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
