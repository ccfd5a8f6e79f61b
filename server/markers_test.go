package server

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
	"golang.org/x/tools/txtar"
)

// The files of testdata/markers are cases of what the editor is told, one purpose
// each, said in the first lines. Their members are files of a folder; places in
// them are marked by a name in «» and a line of the member "markers" says what is
// expected there:
//
//	hover A "in it" !"not in it"
//	definition|references|highlight A -> B C
//	lens|hint A "in it"; hint A none
//	symbol A "name"          the outline has it, and it begins at A
//	note A check
//	fold A B                 from A's line to B's
//	select A "text" "wider"  the text, or its first line, of each wider selection
//	action A "title" -> B "the line of B after it"
//	action A "title" refused|offered|missing
//
// The first member is open in the editor, the others are on disk.

// markedCase is one case.
type markedCase struct {
	t     *testing.T
	e     *editor
	u     uri.URI
	text  string
	place map[string]protocol.Position
	line  map[string]string // the member that holds a place
}

var marker = regexp.MustCompile(`«([^»]*)»`)

func TestMarkers(t *testing.T) {
	files, err := filepath.Glob("testdata/markers/*.txtar")
	if err != nil || len(files) < 10 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			t.Parallel()
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			a := txtar.Parse(b)
			if len(bytes.TrimSpace(a.Comment)) < 20 {
				t.Error("the first lines do not say what the case is for")
			}
			m, expected := begun(t, a)
			for i, l := range strings.Split(strings.TrimSpace(expected), "\n") {
				m.check(fmt.Sprintf("%s, expectation %d: %s", filepath.Base(file), i+1, l), l)
			}
		})
	}
}

// begun opens the first member of a case.
func begun(t *testing.T, a *txtar.Archive) (m *markedCase, expected string) {
	t.Helper()
	dir := t.TempDir()
	m = &markedCase{t: t, place: map[string]protocol.Position{}, line: map[string]string{}}
	for _, f := range a.Files {
		if f.Name == "markers" {
			expected = string(f.Data)
			continue
		}
		text := m.unmarked(f.Name, string(f.Data))
		path := write(t, dir, f.Name, text)
		if m.u == "" {
			m.u, m.text = uri.File(path), text
		}
	}
	m.e = start(t, func(p *protocol.InitializeParams) {
		fixing(p)
		inFolder(dir)(p)
	})
	m.e.open(m.u, m.text)
	return m, expected
}

// unmarked takes the marks out of a text and keeps where they were.
func (m *markedCase) unmarked(name, text string) string {
	var out strings.Builder
	for at := marker.FindStringSubmatchIndex(text); at != nil; at = marker.FindStringSubmatchIndex(text) {
		out.WriteString(text[:at[0]])
		so := out.String()
		m.place[text[at[2]:at[3]]] = protocol.Position{Line: uint32(strings.Count(so, "\n")), Character: uint32(len(so) - 1 - strings.LastIndex(so, "\n"))}
		m.line[text[at[2]:at[3]]] = name
		text = text[at[1]:]
	}
	out.WriteString(text)
	return out.String()
}

// split splits an expectation into names and quoted texts; a quoted text keeps
// its quotation mark in front, and a ! before that.
func split(line string) (out []string) {
	for line = strings.TrimSpace(line); line != ""; line = strings.TrimSpace(line) {
		not := ""
		if strings.HasPrefix(line, `!"`) {
			not, line = "!", line[1:]
		}
		if quoted, err := strconv.QuotedPrefix(line); err == nil {
			s, _ := strconv.Unquote(quoted)
			out = append(out, not+`"`+s)
			line = line[len(quoted):]
			continue
		}
		word, rest, _ := strings.Cut(line, " ")
		out, line = append(out, word), rest
	}
	return out
}

// check makes sure of one expectation.
func (m *markedCase) check(name, line string) {
	m.t.Helper()
	w := split(line)
	if len(w) < 3 {
		m.t.Errorf("%s: not understood", name)
		return
	}
	at, known := m.place[w[1]]
	if !known {
		m.t.Errorf("%s: there is no place «%s»", name, w[1])
		return
	}
	pos := protocol.TextDocumentPositionParams{TextDocument: doc(m.u), Position: at}
	switch w[0] {
	case "hover":
		m.holds(name, m.e.hover(m.u, at), w[2:])
	case "lens":
		m.holds(name, m.e.lensOver(m.u, int(at.Line)), w[2:])
	case "hint":
		m.holds(name, m.hint(at), w[2:])
	case "definition", "references", "highlight":
		m.leads(name, m.targets(w[0], pos), w[3:])
	case "symbol":
		m.symbol(name, at, w[2][1:])
	case "note":
		list := m.e.settled(m.u, 1)
		if !slices.ContainsFunc(list, func(d protocol.Diagnostic) bool { return codeOf(&d) == w[2] && d.Range.Start == at }) {
			m.t.Errorf("%s: notes %v", name, brief(list))
		}
	case "fold":
		m.fold(name, at, m.place[w[2]])
	case "select":
		m.selects(name, at, w[2:])
	case "action":
		m.action(name, at, w[2][1:], w[3:])
	default:
		m.t.Errorf("%s: not understood", name)
	}
}

// holds compares what was said with texts that should, or should not, be in it.
func (m *markedCase) holds(name, said string, parts []string) {
	m.t.Helper()
	for _, p := range parts {
		switch {
		case p == "none":
			if said != "" {
				m.t.Errorf("%s: %q", name, said)
			}
		case strings.HasPrefix(p, `!"`) == strings.Contains(said, strings.TrimLeft(p, `!"`)):
			m.t.Errorf("%s:\n%s", name, said)
		}
	}
}

// hint returns the inlay hint on the line of a place, "" for none.
func (m *markedCase) hint(at protocol.Position) string {
	m.t.Helper()
	list, err := m.e.server.InlayHint(m.t.Context(), &protocol.InlayHintParams{TextDocument: doc(m.u),
		Range: protocol.Range{Start: protocol.Position{Line: at.Line}, End: protocol.Position{Line: at.Line, Character: at.Character + 1}}})
	if err != nil {
		m.t.Fatal(err)
	}
	if len(list) == 0 {
		return ""
	}
	return fmt.Sprint(list[0].Label)
}

// targets returns where a request leads, as "file line:column", in order.
func (m *markedCase) targets(kind string, pos protocol.TextDocumentPositionParams) (out []string) {
	m.t.Helper()
	ctx := m.t.Context()
	var list []protocol.Location
	var err error
	switch kind {
	case "definition":
		var res protocol.DefinitionResult
		res, err = m.e.server.Definition(ctx, &protocol.DefinitionParams{TextDocumentPositionParams: pos})
		list, _ = res.(protocol.LocationSlice)
	case "references":
		list, err = m.e.server.References(ctx, &protocol.ReferenceParams{TextDocumentPositionParams: pos})
	case "highlight":
		var marks []protocol.DocumentHighlight
		marks, err = m.e.server.DocumentHighlight(ctx, &protocol.DocumentHighlightParams{TextDocumentPositionParams: pos})
		for _, h := range marks {
			list = append(list, protocol.Location{URI: m.u, Range: h.Range})
		}
	}
	if err != nil {
		m.t.Fatal(err)
	}
	for _, l := range list {
		out = append(out, placeText(filepath.Base(l.URI.FsPath()), l.Range.Start))
	}
	slices.Sort(out)
	return out
}

func placeText(file string, p protocol.Position) string {
	return fmt.Sprintf("%s %d:%d", file, p.Line+1, p.Character+1)
}

func (m *markedCase) leads(name string, got []string, places []string) {
	m.t.Helper()
	var want []string
	for _, p := range places {
		want = append(want, placeText(m.line[p], m.place[p]))
	}
	slices.Sort(want)
	if !slices.Equal(got, want) {
		m.t.Errorf("%s: leads to %q, want %q", name, got, want)
	}
}

func (m *markedCase) symbol(name string, at protocol.Position, want string) {
	m.t.Helper()
	res, err := m.e.server.DocumentSymbol(m.t.Context(), &protocol.DocumentSymbolParams{TextDocument: doc(m.u)})
	if err != nil {
		m.t.Fatal(err)
	}
	var seen []string
	var walk func([]protocol.DocumentSymbol) bool
	walk = func(list []protocol.DocumentSymbol) bool {
		for i := range list {
			seen = append(seen, list[i].Name+" "+placeText("", list[i].SelectionRange.Start))
			if list[i].Name == want && list[i].SelectionRange.Start == at || walk(list[i].Children) {
				return true
			}
		}
		return false
	}
	if tops, _ := res.(protocol.DocumentSymbolSlice); !walk(tops) {
		m.t.Errorf("%s: want it at %s, the outline has %q", name, placeText("", at), seen)
	}
}

func (m *markedCase) fold(name string, from, to protocol.Position) {
	m.t.Helper()
	folds, err := m.e.server.FoldingRanges(m.t.Context(), &protocol.FoldingRangeParams{TextDocument: doc(m.u)})
	if err != nil {
		m.t.Fatal(err)
	}
	if !slices.ContainsFunc(folds, func(f protocol.FoldingRange) bool { return f.StartLine == from.Line && f.EndLine == to.Line }) {
		m.t.Errorf("%s: lines %d-%d, folds %+v", name, from.Line+1, to.Line+1, folds)
	}
}

func (m *markedCase) selects(name string, at protocol.Position, want []string) {
	m.t.Helper()
	list, err := m.e.server.SelectionRange(m.t.Context(), &protocol.SelectionRangeParams{TextDocument: doc(m.u), Positions: []protocol.Position{at}})
	if err != nil {
		m.t.Fatal(err)
	}
	lines := strings.Split(m.text, "\n")
	var got []string
	for r := &list[0]; r != nil; r = r.Parent {
		line := lines[r.Range.Start.Line]
		end := len(line)
		if r.Range.End.Line == r.Range.Start.Line {
			end = int(r.Range.End.Character)
		}
		got = append(got, `"`+line[r.Range.Start.Character:end])
	}
	if len(got) < len(want) || !slices.Equal(got[:len(want)], want) {
		m.t.Errorf("%s: selects %q", name, got)
	}
}

// action looks for an action at a place and does what is expected with it.
func (m *markedCase) action(name string, at protocol.Position, title string, rest []string) {
	m.t.Helper()
	m.e.settled(m.u, 1)
	list, err := m.e.server.CodeAction(m.t.Context(), &protocol.CodeActionParams{TextDocument: doc(m.u),
		Range: protocol.Range{Start: at, End: at}, Context: protocol.CodeActionContext{Diagnostics: []protocol.Diagnostic{}}})
	if err != nil {
		m.t.Fatal(err)
	}
	var titles []string
	for _, x := range list {
		a := x.(*protocol.CodeAction)
		titles = append(titles, a.Title+" "+a.Disabled.Reason)
		if !strings.HasPrefix(a.Title, title) {
			continue
		}
		switch {
		case rest[0] == "missing", (rest[0] == "refused") != (a.Disabled.Reason != ""):
			m.t.Errorf("%s: %q is offered, reason %q", name, a.Title, a.Disabled.Reason)
		case rest[0] == "->":
			m.applied(name, a, m.place[rest[1]], rest[2][1:])
		}
		return
	}
	if rest[0] != "missing" {
		m.t.Errorf("%s: offered are %q", name, titles)
	}
}

func (m *markedCase) applied(name string, a *protocol.CodeAction, at protocol.Position, want string) {
	m.t.Helper()
	if a.Edit == nil {
		var err error
		if a, err = m.e.server.CodeActionResolve(m.t.Context(), a); err != nil {
			m.t.Fatal(err)
		}
	}
	after := edited(m.t, m.text, editsOf(a.Edit, m.u))
	line := strings.Split(after, "\n")[at.Line]
	if got := strings.TrimSpace(line); got != want || !utf8.ValidString(after) {
		m.t.Errorf("%s: the line is %q", name, got)
	}
}
