package server

import (
	"os"
	"testing"
	"time"

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
		_, spline := demo(t, "deckhand_spline.bvh")
		_, polish := demo(t, "deckhand_polish.bvh")
		dir := ferry(t)
		path := write(t, dir, "shot.bvh", polish)
		u := uri.File(path)
		e := start(t, inFolder(dir))
		version := int32(1)
		if open {
			e.open(u, polish)
			e.settled(u, version)
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
				write(t, dir, "shot.bvh", part)
				e.watched(path)
				if open { // the editor loads the file again
					version++
					e.change(u, version, &protocol.TextDocumentContentChangeWholeDocument{Text: part})
				}
				time.Sleep(span / pieces)
			}
		}
		want := last == spline
		e.await("the notes of the last export", func() bool {
			list := e.shownOn(u)
			return hasCode(list, "even-spacing") == want && !hasCode(list, "partial-export") && !hasCode(list, "syntax")
		})
		time.Sleep(2 * e.inside.options.settle) // nothing stale comes later
		e.mu.Lock()
		if list := e.shownOn(u); hasCode(list, "even-spacing") != want {
			t.Errorf("open %v: stale notes: %v", open, brief(list))
		}
		e.mu.Unlock()
	}
}

// shownOn returns what was published last for a file; e.mu is held.
func (e *editor) shownOn(u uri.URI) []protocol.Diagnostic {
	if p := e.published[u]; p != nil {
		return p.Diagnostics
	}
	return nil
}

// TestOrder: a large text is opened and at once edited, many times; the
// edit is never taken before the text.
func TestOrder(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	e := start(t, nil)
	u := uri.File(t.TempDir() + "/a.usda")
	const rounds = 30
	for i := range rounds {
		version := int32(2*i + 1)
		if err := e.server.DidOpen(t.Context(), &protocol.DidOpenTextDocumentParams{
			TextDocument: protocol.TextDocumentItem{URI: u, LanguageID: "usda", Version: version, Text: spline}}); err != nil {
			t.Fatal(err)
		}
		e.replace(u, version+1, span(0, 0, 0, 0), "#")
	}
	if _, err := e.server.Hover(t.Context(), &protocol.HoverParams{TextDocumentPositionParams: protocol.TextDocumentPositionParams{TextDocument: doc(u)}}); err != nil {
		t.Fatal(err)
	}
	d := e.inside.session.Snapshot().Doc(u)
	if d.Version != 2*rounds || string(d.Text()) != "#"+spline {
		t.Errorf("version %d, %d bytes of %d", d.Version, len(d.Text()), len(spline)+1)
	}
}
