package judging_test

import (
	"os"
	"testing"
	"time"

	"curvelint/cmd/lab/editor"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// TestReexports rewrites a file on disk in pieces, again and again, while it
// is open and while it is closed: in the end the notes are right, and there are
// none of a pass before. CURVELINT_SLOW=1 takes two seconds for each, as an
// exporter does, fifty times and one; without it all is faster.
func TestReexports(t *testing.T) {
	rounds, span := 9, 60*time.Millisecond
	if os.Getenv("CURVELINT_SLOW") != "" {
		rounds, span = 51, 2*time.Second
	}
	for _, open := range []bool{false, true} {
		_, spline := editor.Demo(t, "deckhand_spline.bvh")
		_, polish := editor.Demo(t, "deckhand_polish.bvh")
		dir := editor.Ferry(t)
		path := editor.Write(t, dir, "shot.bvh", polish)
		u := uri.File(path)
		e := editor.Start(t, editor.InFolder(dir))
		version := int32(1)
		if open {
			e.Open(u, polish)
			e.Settled(u, version)
		}
		last := ""
		for i := range rounds {
			last = spline
			if i%2 == 1 {
				last = polish
			}
			const pieces = 6
			for k := 1; k <= pieces; k++ {
				part := last[:len(last)*k/pieces]
				editor.Write(t, dir, "shot.bvh", part)
				e.Watched(path)
				if open { // the editor loads the file again
					version++
					e.Change(u, version, &protocol.TextDocumentContentChangeWholeDocument{Text: part})
				}
				time.Sleep(span / pieces)
			}
		}
		want := last == spline
		e.Await("the notes of the last export", func() bool {
			list := shownOn(e, u)
			return editor.HasCode(list, "even-spacing") == want && !editor.HasCode(list, "partial-export") && !editor.HasCode(list, "syntax")
		})
		time.Sleep(2 * editor.Settle) // nothing stale comes later
		e.Mu.Lock()
		if list := shownOn(e, u); editor.HasCode(list, "even-spacing") != want {
			t.Errorf("open %v: stale notes: %v", open, editor.Brief(list))
		}
		e.Mu.Unlock()
	}
}

// shownOn returns what was published last for a file; e.Mu is held.
func shownOn(e *editor.Editor, u uri.URI) []protocol.Diagnostic {
	if p := e.Published[u]; p != nil {
		return p.Diagnostics
	}
	return nil
}

// TestOrder: a large text is opened and at once edited, many times; the
// edit is never taken before the text.
func TestOrder(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	e := editor.Start(t, nil)
	u := uri.File(t.TempDir() + "/a.usda")
	const rounds = 30
	for i := range rounds {
		version := int32(2*i + 1)
		if err := e.Server.DidOpen(t.Context(), &protocol.DidOpenTextDocumentParams{
			TextDocument: protocol.TextDocumentItem{URI: u, LanguageID: "usda", Version: version, Text: spline}}); err != nil {
			t.Fatal(err)
		}
		e.Replace(u, version+1, editor.Span(0, 0, 0, 0), "#")
	}
	if _, err := e.Server.Hover(t.Context(), &protocol.HoverParams{TextDocumentPositionParams: protocol.TextDocumentPositionParams{TextDocument: editor.Doc(u)}}); err != nil {
		t.Fatal(err)
	}
	d := e.Inside.Doc(u)
	if d.Version != 2*rounds || string(d.Text()) != "#"+spline {
		t.Errorf("version %d, %d bytes of %d", d.Version, len(d.Text()), len(spline)+1)
	}
}
