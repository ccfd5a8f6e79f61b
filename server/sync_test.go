package server

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/parse/text"
)

// ferryLines is a small shot with line ends of both kinds and characters of one
// to four bytes: invented data.
const ferryLines = "#usda 1.0\r\n(\r\n    startTimeCode = 1\r\n    endTimeCode = 24\n)\n" +
	"# the night ferry ⚓ with 𐐀 two 𐐀𐐀 surrogate pairs: é\r\n" +
	"def Xform \"Tug\"\n{\n    double3 xformOp:translate.timeSamples = {\n        1: (0, 0, 0),\r\n        12: (3, 0, 0),\n        24: (9, 1, 0),\n    }\r\n" +
	"    uniform token[] xformOpOrder = [\"xformOp:translate\"]\n}\n"

var snippets = []string{"", "x", "\r\n", "\n", "𐐀", "# é⚓\n", "        7: (1, 2, 3),\n", "}", "\"", "(", "\t", "12"}

// mirror is the client's own text, edited at positions in one encoding.
type mirror struct {
	text string
	enc  text.Encoding
}

// edit replaces a random range, both ends between characters, and returns the
// change as the client would send it.
func (m *mirror) edit(t *testing.T, r *rand.Rand) *protocol.TextDocumentContentChangePartial {
	t.Helper()
	bounds := []int{}
	for i := range m.text {
		// Nobody can put a cursor between CR and LF.
		if i == 0 || m.text[i] != '\n' || m.text[i-1] != '\r' {
			bounds = append(bounds, i)
		}
	}
	bounds = append(bounds, len(m.text))
	a := r.IntN(len(bounds))
	b := min(a+r.IntN(9), len(bounds)-1)
	with := snippets[r.IntN(len(snippets))]
	c := &protocol.TextDocumentContentChangePartial{Range: m.span(t, bounds[a], bounds[b]), Text: with}
	m.text = m.text[:bounds[a]] + with + m.text[bounds[b]:]
	return c
}

// span is a range of bytes as a range of the protocol.
func (m *mirror) span(t *testing.T, from, to int) protocol.Range {
	t.Helper()
	ix := text.NewIndex([]byte(m.text))
	var out [2]protocol.Position
	for i, at := range [2]int{from, to} {
		p, err := ix.Position(at, m.enc)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = protocol.Position{Line: uint32(p.Line), Character: uint32(p.Column)}
	}
	return protocol.Range{Start: out[0], End: out[1]}
}

// TestRandomEdits: after any sequence of edits, in every encoding, the server's
// notes are those of a fresh open of the client's text. Then the whole text, by
// the client's own count of lines and columns, is replaced by the first one: if
// the server's text had gone astray, something would be left over.
func TestRandomEdits(t *testing.T) {
	for kind, enc := range map[protocol.PositionEncodingKind]text.Encoding{
		protocol.PositionEncodingKindUTF8: text.UTF8, protocol.PositionEncodingKindUTF16: text.UTF16, protocol.PositionEncodingKindUTF32: text.UTF32,
	} {
		t.Run(string(kind), func(t *testing.T) {
			e := start(t, func(p *protocol.InitializeParams) {
				p.Capabilities.General = &protocol.GeneralClientCapabilities{PositionEncodings: []protocol.PositionEncodingKind{kind}}
			})
			dir := t.TempDir()
			edited, fresh := uri.File(filepath.Join(dir, "edited.usda")), uri.File(filepath.Join(dir, "fresh.usda"))
			r := rand.New(rand.NewPCG(7, uint64(enc)))
			m := &mirror{ferryLines, enc}
			e.open(edited, m.text)
			version := int32(1)
			for round := range 8 {
				for range 12 {
					version++
					e.change(edited, version, m.edit(t, r))
				}
				e.open(fresh, m.text)
				want := e.settled(fresh, 1)
				if got := e.settled(edited, version); !reflect.DeepEqual(got, want) {
					t.Fatalf("round %d: edited %v, fresh %v, text %q", round, got, want, m.text)
				}
				e.shut(fresh)
			}
			version++
			all := m.span(t, 0, len(m.text))
			m.text = ferryLines
			e.replace(edited, version, all, m.text)
			e.open(fresh, m.text)
			want := e.settled(fresh, 1)
			if got := e.settled(edited, version); !reflect.DeepEqual(got, want) || len(got) == 0 {
				t.Fatalf("after the whole text was replaced: %v, want %v", got, want)
			}
		})
	}
}

// settled returns the notes on a version of a text when nothing more has come
// for it for a while: problems come at once, notes a little later.
func (e *editor) settled(u uri.URI, version int32) []string {
	e.t.Helper()
	e.notes(u, version)
	for {
		e.mu.Lock()
		before := e.published[u]
		e.mu.Unlock()
		time.Sleep(120 * time.Millisecond)
		e.mu.Lock()
		after := e.published[u]
		e.mu.Unlock()
		if before == after {
			return brief(after.Diagnostics)
		}
	}
}

// shut closes a text and forgets what was published for it.
func (e *editor) shut(u uri.URI) {
	e.t.Helper()
	if err := e.server.DidClose(e.t.Context(), &protocol.DidCloseTextDocumentParams{TextDocument: doc(u)}); err != nil {
		e.t.Fatal(err)
	}
	e.await("the notes of a closed text to go", func() bool {
		p := e.published[u]
		return p == nil || len(p.Diagnostics) == 0
	})
	e.mu.Lock()
	delete(e.published, u)
	e.mu.Unlock()
}

// TestLayerOnDisk: a note on a value in another layer is published for that
// layer's file, and a re-export of the layer on disk refreshes the notes.
func TestLayerOnDisk(t *testing.T) {
	dir := t.TempDir()
	layer, root := filepath.Join(dir, "anim.usda"), filepath.Join(dir, "shot.usda")
	_, flawed := demo(t, "deckhand_spline.usda")
	_, polished := demo(t, "deckhand_polish.usda")
	write := func(path, text string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(layer, flawed)
	top := "#usda 1.0\n(\n    subLayers = [@anim.usda@]\n    timeCodesPerSecond = 24\n    startTimeCode = 1001\n    endTimeCode = 1096\n)\n"
	write(root, top)
	e := start(t, inFolder(dir))
	e.open(uri.File(root), top)
	e.await("notes in the layer", func() bool {
		p := e.published[uri.File(layer)]
		return p != nil && hasCode(p.Diagnostics, "pop")
	})
	write(layer, polished)
	e.watched(layer)
	e.await("the notes to go after the re-export", func() bool {
		p := e.published[uri.File(layer)]
		return p == nil || !hasCode(p.Diagnostics, "pop")
	})
}

// TestReplacedRange: one edit of one number makes the note on it go and come.
func TestReplacedRange(t *testing.T) {
	path, src := demo(t, "deckhand_spline.usda")
	e := start(t, nil)
	u := uri.File(path)
	e.open(u, src)
	list := e.notes(u, 1)
	for i := range list {
		if codeOf(&list[i]) != "pop" {
			continue
		}
		line := int(list[i].Range.Start.Line)
		old := strings.Split(src, "\n")[line]
		before := strings.Split(src, "\n")[line-1]
		// The frame takes the value of the frame before it.
		value := before[strings.Index(before, ":"):]
		e.replace(u, 2, span(line, strings.Index(old, ":"), line, len(old)), value)
		if hasCode(e.notes(u, 2), "pop") {
			t.Error("the pop is still there after its frame was smoothed")
		}
		e.replace(u, 3, span(line, strings.Index(old, ":"), line, strings.Index(old, ":")+len(value)), old[strings.Index(old, ":"):])
		if !hasCode(e.notes(u, 3), "pop") {
			t.Error("the pop has not come back")
		}
		return
	}
	t.Fatal("no pop in the demo's earlier pass")
}
