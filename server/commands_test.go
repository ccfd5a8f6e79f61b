package server

import (
	"encoding/json"
	"io"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// withBrowser makes a client that shows documents and addresses.
func withBrowser(p *protocol.InitializeParams) {
	p.Capabilities.Window = &protocol.WindowClientCapabilities{ShowDocument: &protocol.ShowDocumentClientCapabilities{Support: true}}
}

// execute executes a command and reads its result.
func execute[T any](e *editor, command string, argument any) (result T) {
	e.t.Helper()
	raw, err := json.Marshal(argument)
	if err != nil {
		e.t.Fatal(err)
	}
	answer, err := e.server.ExecuteCommand(e.t.Context(), &protocol.ExecuteCommandParams{Command: command, Arguments: []protocol.LSPAny{raw}})
	if err != nil {
		e.t.Fatalf("%s %s: %v", command, raw, err)
	}
	if err := json.Unmarshal(answer, &result); err != nil {
		e.t.Fatalf("%s %s: %v in %s", command, raw, err, answer)
	}
	return result
}

// fetched asks for an address as a browser does, calling the server host where
// that is not "".
func fetched(t *testing.T, address, host string) (status int, kind, body string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, address, nil)
	if err != nil {
		t.Fatal(err)
	}
	if host != "" {
		r.Host = host
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return 0, "", err.Error()
	}
	defer answer.Body.Close()
	b, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, answer.Header.Get("Content-Type"), string(b)
}

// TestChartAndPage looks at a chart and at the page in a browser, from every note
// of the demo; nothing answers once the session is over.
func TestChartAndPage(t *testing.T) {
	e, u, text := opened(t, "deckhand_spline.usda", withBrowser)
	shot, err := e.inside.sceneOf(t.Context(), u)
	for err != nil { // the text is on its way
		time.Sleep(10 * time.Millisecond)
		shot, err = e.inside.sceneOf(t.Context(), u)
	}
	kinds := map[string]bool{}
	var last charted
	for i := range shot.Notes {
		a, ok := chartFor(shot, &shot.Notes[i])
		if !ok {
			t.Errorf("no chart for %s", shot.Notes[i].Message)
			continue
		}
		kinds[a.Kind] = true
		last = execute[charted](e, commandChart, a)
		if !strings.Contains(last.SVG, "</svg>") || !strings.HasPrefix(last.Title, a.Kind+" of ") {
			t.Errorf("%s: %.80s", last.Title, last.SVG)
		}
	}
	if len(kinds) != 4 {
		t.Errorf("kinds of charts: %v", kinds)
	}
	status, kind, body := fetched(t, last.Address, "")
	if status != http.StatusOK || kind != "image/svg+xml" || body != last.SVG {
		t.Errorf("chart: %d, %s, %.80s", status, kind, body)
	}
	if status, _, _ := fetched(t, last.Address, "example.org"); status != http.StatusForbidden {
		t.Errorf("a chart asked for under another name: %d", status)
	}
	if status, _, _ := fetched(t, last.Address+"x", ""); status != http.StatusNotFound {
		t.Errorf("a chart that does not exist: %d", status)
	}
	quiet := execute[charted](e, commandChart, chartArguments{URI: u, Part: "/Tug/hips", Quiet: true})
	if quiet.Address != "" || quiet.Title != "spacing of hips, frames 1001-1096" {
		t.Errorf("quiet: %s at %s", quiet.Title, quiet.Address)
	}
	here := at(lineWith(t, text, `def Xform "forearm_l"`, "1040:"), 20)
	for kind, want := range map[string]string{"": "spacing of forearm_l, frames 10", "arc": "arc of hand_tip_l, frames 10"} {
		if c := execute[charted](e, commandChart, chartArguments{URI: u, Kind: kind, Position: &here, Quiet: true}); !strings.HasPrefix(c.Title, want) {
			t.Errorf("at a key: %q, want %q", c.Title, want)
		}
	}

	p := execute[paged](e, commandPage, pageArguments{URI: u, Frame: 1040, Part: "/Tug/hips"})
	home, place, _ := strings.Cut(p.Address, "#")
	if place != "frame=1040&part=%2FTug%2Fhips" {
		t.Errorf("the page opens at %s", place)
	}
	status, kind, body = fetched(t, home, "")
	if status != http.StatusOK || !strings.HasPrefix(kind, "text/html") || !strings.Contains(body, "head turns evenly") {
		t.Errorf("page: %d, %s, %.200s", status, kind, body)
	}
	if again := execute[paged](e, commandPage, pageArguments{URI: u}); again.Address != home {
		t.Errorf("the page is at %s, then at %s", home, again.Address)
	}
	// The page follows the text.
	line := lineWith(t, text, `def Xform "head"`, "1040:")
	e.replace(u, 2, span(line, 0, line+1, 0), "")
	e.settled(u, 2)
	deadline := time.Now().Add(10 * time.Second)
	for {
		if _, _, now := fetched(t, home, ""); now != body {
			break
		}
		if time.Now().After(deadline) {
			t.Fatal("the page does not follow the text")
		}
		time.Sleep(20 * time.Millisecond)
	}
	e.mu.Lock()
	shown := slices.Clone(e.shown)
	e.mu.Unlock()
	if !slices.Contains(shown, uri.URI(home)) || !slices.Contains(shown, uri.URI(last.Address)) {
		t.Errorf("shown: %v", shown)
	}
	e.stop()
	for _, address := range []string{home, last.Address} {
		if status, _, body := fetched(t, address, ""); status != 0 {
			t.Errorf("after the session %s answers %d, %.80s", address, status, body)
		}
	}
}

// TestCompareCommand compares the passes of the demo for a client that shows
// documents of the server's, for one that does not, and for one that is quiet.
func TestCompareCommand(t *testing.T) {
	dir, u, content := twoPasses(t)
	for _, tt := range []struct {
		documents, quiet bool
	}{{true, false}, {false, false}, {false, true}} {
		e := start(t, func(p *protocol.InitializeParams) {
			inFolder(dir)(p)
			if tt.documents {
				withBrowser(p)
				p.Capabilities.Workspace.TextDocumentContent = &protocol.TextDocumentContentClientCapabilities{}
			}
		})
		e.open(u, content)
		c := execute[compared](e, commandCompare, compareArguments{URI: u, Quiet: tt.quiet})
		// What the generator planted: every note is fixed, the timing stays.
		for _, want := range []string{"timing unchanged", "8 fixed, 0 remaining, 0 new", "spacing contrast"} {
			if !strings.Contains(c.Text, want) {
				t.Errorf("the comparison lacks %q:\n%.600s", want, c.Text)
			}
		}
		if c.Title != "deckhand_polish.usda since deckhand_spline.usda" {
			t.Errorf("title %q", c.Title)
		}
		if !tt.documents && !tt.quiet { // a message may be taken in after the answer to the command
			e.await("the comparison as a message", func() bool { return len(e.messages) > 0 })
		}
		e.mu.Lock()
		said, shown := len(e.messages), slices.Clone(e.shown)
		e.mu.Unlock()
		if tt.documents != (len(shown) == 1) || (said == 1) != (!tt.documents && !tt.quiet) {
			t.Errorf("%+v: %d messages, shown %v", tt, said, shown)
		}
		if len(shown) == 1 {
			d, err := e.server.TextDocumentContent(t.Context(), &protocol.TextDocumentContentParams{URI: shown[0]})
			if err != nil || d.Text != c.Text {
				t.Errorf("the document %s: %v, %.80s", shown[0], err, d.Text)
			}
		}
		if !slices.Contains(e.result.Capabilities.ExecuteCommandProvider.Commands, commandCompare) {
			t.Error("the command was not announced")
		}
		if got := slices.Contains(e.result.Capabilities.ExecuteCommandProvider.Commands, commandPage); got != tt.documents {
			t.Errorf("the page is announced: %t, to a client that shows documents: %t", got, tt.documents)
		}
		if got := e.lensOver(u, 0); !strings.Contains(got, "since deckhand_spline.usda: timing unchanged; notes: 8 fixed") {
			t.Errorf("lens over the file: %s", got)
		}
	}
}

// TestBadArguments calls each command with what it does not take.
func TestBadArguments(t *testing.T) {
	e, u, _ := opened(t, "deckhand_spline.usda", withBrowser)
	for name := range commands {
		for _, bad := range []string{`[1]`, `"x"`, `{"uri": 3, "check": 4, "text": 5}`, `{"uri": "file:///nothing.usda", "text": [], "check": "none"}`} {
			if name == commandReveal && strings.HasPrefix(bad, "{") {
				continue // any object is a location
			}
			if _, err := e.server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: name, Arguments: []protocol.LSPAny{protocol.LSPAny(bad)}}); err == nil {
				t.Errorf("%s took %s", name, bad)
			}
		}
	}
	for name, a := range map[string]any{
		commandChart:   chartArguments{URI: u, Part: "/Tug/hips", Kind: "cake"},
		commandCompare: compareArguments{URI: u}, // there is no earlier one
		commandFrame:   frameArguments{URI: u, Frame: 3},
	} {
		raw, _ := json.Marshal(a)
		if _, err := e.server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: name, Arguments: []protocol.LSPAny{raw}}); err == nil {
			t.Errorf("%s took %s", name, raw)
		}
	}
}
