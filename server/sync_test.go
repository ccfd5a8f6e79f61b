package server_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/cmd/lab/editor"
	"curvelint/parse/text"
	"curvelint/server/wire"
)

// speaking makes a client that counts columns in an encoding.
func speaking(enc protocol.PositionEncodingKind, dir string) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		p.Capabilities.General = &protocol.GeneralClientCapabilities{PositionEncodings: []protocol.PositionEncodingKind{enc}}
		editor.InFolder(dir)(p)
	}
}

// units returns how many units a text has in an encoding.
func units(s string, enc text.Encoding) int {
	switch enc {
	case text.UTF8:
		return len(s)
	case text.UTF16:
		return len(utf16.Encode([]rune(s)))
	}
	return utf8.RuneCountInString(s)
}

// positionIn returns the position of offset i of a text by counting it out.
func positionIn(s string, i int, enc text.Encoding) protocol.Position {
	line, start := 0, 0
	for j := 0; j < i; j++ {
		if s[j] == '\n' || s[j] == '\r' && (j+1 == len(s) || s[j+1] != '\n') {
			line, start = line+1, j+1
		}
	}
	return editor.At(line, units(s[start:i], enc))
}

// boundary moves an offset back to one that a position can name.
func boundary(s string, i int) int {
	for i > 0 && i < len(s) && (!utf8.RuneStart(s[i]) || s[i] == '\n' && s[i-1] == '\r') {
		i--
	}
	return i
}

// TestPositionEncodings follows the example of the protocol (LSP 3.17, section
// Position): in "a\U00010400b" the letter b has offset 3 in UTF-16.
func TestPositionEncodings(t *testing.T) {
	for enc, column := range map[protocol.PositionEncodingKind]int{"utf-8": 5, "utf-16": 3, "utf-32": 2} {
		e := editor.Start(t, speaking(enc, t.TempDir()))
		want := enc
		if enc == protocol.PositionEncodingKindUTF16 {
			want = "" // the default
		}
		if got := e.Result.Capabilities.PositionEncoding; got != want {
			t.Errorf("%s negotiated as %q", enc, got)
		}
		u := uri.URI("file:///tug/a.usda")
		e.Open(u, "a\U00010400b")
		e.Replace(u, 2, editor.Span(0, column, 0, column+1), "c")
		e.Notes(u, 2)
		if got := string(e.Inside.Doc(u).Text()); got != "a\U00010400c" {
			t.Errorf("%s: %q", enc, got)
		}
	}
}

// sample is a small shot with every kind of line end and character that an
// edit can meet.
func sample(t *testing.T) string {
	_, demoText := editor.Demo(t, "deckhand_spline.usda")
	head := strings.Index(demoText, `def Xform "deck"`)
	var b strings.Builder
	b.WriteString("#usda 1.0\r\n(\n    upAxis = \"Y\"\n    timeCodesPerSecond = 24 # na\u00efve \U0001F6A2\n)\r\n")
	depth := 0
	for i, line := range strings.SplitAfter(demoText[head:], "\n") {
		if i%7 == 0 {
			line = strings.TrimSuffix(line, "\n") + " # \U00010400 \u00e9\r\n"
		}
		b.WriteString(line)
		depth += strings.Count(line, "{") - strings.Count(line, "}")
		if depth == 0 && i > 1 {
			break
		}
	}
	return b.String()
}

// randomEdit returns an edit of a text: most change a digit, some insert, cut
// or paste lines and odd characters.
func randomEdit(rng *rand.Rand, s string) (from, to int, insert string) {
	pick := func() int { return boundary(s, rng.IntN(len(s)+1)) }
	switch rng.IntN(6) {
	case 0:
		from = pick()
		return from, from, []string{"\U0001F6A2", "\r\n", "\n", "\r", "\u00e9# ", "1", ""}[rng.IntN(7)]
	case 1:
		from = pick()
		to = boundary(s, min(len(s), from+rng.IntN(12)))
		return from, max(from, to), ""
	case 2:
		from = pick()
		to = max(from, boundary(s, min(len(s), from+rng.IntN(80))))
		return from, to, s[from:to] + "\U00010400"
	}
	for range 50 {
		from = rng.IntN(len(s) + 1)
		if from < len(s) && s[from] >= '0' && s[from] <= '9' {
			return from, from + 1, fmt.Sprint(rng.IntN(10))
		}
	}
	from = pick()
	return from, from, "7"
}

// TestRandomEdits sends random edits in all encodings: the server's text is
// always the client's, and in the end the notes are those of a fresh open.
func TestRandomEdits(t *testing.T) {
	encodings := map[protocol.PositionEncodingKind]text.Encoding{"utf-8": text.UTF8, "utf-16": text.UTF16, "utf-32": text.UTF32}
	for kind, enc := range encodings {
		t.Run(string(kind), func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(7, uint64(enc)))
			dir := t.TempDir()
			u := uri.File(filepath.Join(dir, "a.usda"))
			e := editor.Start(t, speaking(kind, dir))
			content := sample(t)
			e.Open(u, content)
			version := int32(1)
			for range 120 {
				version++
				var changes []protocol.TextDocumentContentChangeEvent
				for range 1 + rng.IntN(3) {
					from, to, insert := randomEdit(rng, content)
					changes = append(changes, &protocol.TextDocumentContentChangePartial{
						Range: protocol.Range{Start: positionIn(content, from, enc), End: positionIn(content, to, enc)}, Text: insert})
					content = content[:from] + insert + content[to:]
				}
				e.Change(u, version, changes...)
			}
			e.Notes(u, version)
			if got := e.Inside.Doc(u).Text(); !bytes.Equal(got, []byte(content)) {
				t.Fatalf("texts differ:\n%s", cmp.Diff(content, string(got)))
			}
			fresh := editor.Start(t, speaking(kind, dir))
			fresh.Open(u, content)
			want := fresh.Settled(u, 1)
			got := e.Settled(u, version)
			if d := cmp.Diff(shown(want), shown(got)); d != "" {
				t.Errorf("notes differ from those of a fresh open:\n%s", d)
			}
		})
	}
}

// shown returns what a person sees of diagnostics.
func shown(list []protocol.Diagnostic) []string {
	out := []string{}
	for i := range list {
		d := &list[i]
		out = append(out, fmt.Sprintf("%v %s %v %s %d", d.Range, wire.CodeOf(d), d.Severity, wire.MessageOf(d), len(d.RelatedInformation)))
	}
	return out
}

// TestReplacedRange: one edit of one number makes the note on it go and come.
func TestReplacedRange(t *testing.T) {
	path, src := editor.Demo(t, "deckhand_spline.usda")
	e := editor.Start(t, nil)
	u := uri.File(path)
	e.Open(u, src)
	list := e.Notes(u, 1)
	for i := range list {
		if wire.CodeOf(&list[i]) != "pop" {
			continue
		}
		line := int(list[i].Range.Start.Line)
		old := strings.Split(src, "\n")[line]
		before := strings.Split(src, "\n")[line-1]
		// The frame takes the value of the frame before it.
		value := before[strings.Index(before, ":"):]
		e.Replace(u, 2, editor.Span(line, strings.Index(old, ":"), line, len(old)), value)
		if editor.HasCode(e.Notes(u, 2), "pop") {
			t.Error("the pop is still there after its frame was smoothed")
		}
		e.Replace(u, 3, editor.Span(line, strings.Index(old, ":"), line, strings.Index(old, ":")+len(value)), old[strings.Index(old, ":"):])
		if !editor.HasCode(e.Notes(u, 3), "pop") {
			t.Error("the pop has not come back")
		}
		return
	}
	t.Fatal("no pop in the demo's earlier pass")
}

// TestReopenedTextIsToldAgain: an editor that forgets the notes on a text when
// it closes it is told again, also when the version is the same.
func TestReopenedTextIsToldAgain(t *testing.T) {
	path, text := editor.Demo(t, "deckhand_spline.usda")
	e := editor.Start(t, editor.InFolder(filepath.Dir(path)))
	u := uri.File(path)
	e.Open(u, text)
	first := e.Notes(u, 1)
	if err := e.Server.DidClose(t.Context(), &protocol.DidCloseTextDocumentParams{TextDocument: editor.Doc(u)}); err != nil {
		t.Fatal(err)
	}
	e.Note(func() { delete(e.Published, u) })
	e.Open(u, text)
	if again := e.Notes(u, 1); len(again) != len(first) {
		t.Errorf("%d notes, %d before", len(again), len(first))
	}
}
