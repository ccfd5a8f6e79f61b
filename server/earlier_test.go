package server

import (
	"bytes"
	"encoding/base64"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	designedwrite "curvelint/cmd/lab/designed/write"
)

// twoPasses writes a folder with the earlier and the later pass of the demo, and
// returns the text and URI of the later one.
func twoPasses(t *testing.T) (dir string, later uri.URI, content string) {
	t.Helper()
	dir = ferry(t)
	_, spline := demo(t, "deckhand_spline.usda")
	_, content = demo(t, "deckhand_polish.usda")
	write(t, dir, "deckhand_spline.usda", spline)
	return dir, uri.File(write(t, dir, "deckhand_polish.usda", content)), content
}

// lensOver returns what the lens over a part's header says.
func (e *editor) lensOver(u uri.URI, line int) string {
	e.t.Helper()
	list, err := e.server.CodeLens(e.t.Context(), &protocol.CodeLensParams{TextDocument: doc(u)})
	if err != nil {
		e.t.Fatal(err)
	}
	for i := range list {
		if list[i].Range.Start.Line == uint32(line) && len(list[i].Data) > 0 {
			l, err := e.server.CodeLensResolve(e.t.Context(), &list[i])
			if err != nil {
				e.t.Fatal(err)
			}
			return l.Command.Title
		}
	}
	e.t.Fatalf("no lens on line %d", line+1)
	return ""
}

// headChange is what the generator planted on the head: the even turn of the
// spline pass is eased in the polish.
var headChange = regexp.MustCompile(`since deckhand_spline\.usda: .*head 10\d\d-10\d\d.*spacing contrast 0\.\d\d -> [01]\.\d\d`)

// TestSinceTheEarlierPass asks what changed since the earlier pass: on disk, then
// open in the editor, edited there, and closed again.
func TestSinceTheEarlierPass(t *testing.T) {
	dir, u, content := twoPasses(t)
	e := start(t, inFolder(dir))
	e.open(u, content)
	head := lineOf(t, content, `def Xform "head"`)
	for what, got := range map[string]string{
		"lens":           e.lensOver(u, head),
		"hover on part":  e.hover(u, at(head, 8)),
		"hover on frame": e.hover(u, at(lineWith(t, content, `def Xform "head"`, "1040:"), 20)),
	} {
		if !headChange.MatchString(got) {
			t.Errorf("%s: %s", what, got)
		}
		t.Log(what, got)
	}
	if got := e.hover(u, at(head, 8)); !strings.Contains(got, "fixed since deckhand_spline.usda, frames 1036-1046: `even-spacing`") {
		t.Errorf("the note that is gone is not told: %s", got)
	}
	// The earlier pass becomes the same as the later one, in the editor only.
	earlier := uri.File(filepath.Join(dir, "deckhand_spline.usda"))
	e.open(earlier, content)
	if got := e.lensOver(u, head); strings.Contains(got, "since") {
		t.Errorf("against itself: %s", got)
	}
	if err := e.server.DidClose(t.Context(), &protocol.DidCloseTextDocumentParams{TextDocument: doc(earlier)}); err != nil {
		t.Fatal(err)
	}
	e.await("the pass on disk", func() bool { return e.inside.session.Snapshot().Doc(earlier) == nil })
	if got := e.lensOver(u, head); !headChange.MatchString(got) {
		t.Errorf("on disk again: %s", got)
	}
	// It is gone, and there is nothing to compare with.
	if err := os.Remove(earlier.FsPath()); err != nil {
		t.Fatal(err)
	}
	if got := e.lensOver(u, head); strings.Contains(got, "since") {
		t.Errorf("without an earlier pass: %s", got)
	}
}

// TestComparedInTheBackground has a client that can be told to ask for lenses
// again: it is told once the comparison is there, and when the earlier pass
// changes on disk.
func TestComparedInTheBackground(t *testing.T) {
	dir, u, content := twoPasses(t)
	e := start(t, func(p *protocol.InitializeParams) {
		inFolder(dir)(p)
		p.Capabilities.Workspace.CodeLens = &protocol.CodeLensWorkspaceClientCapabilities{RefreshSupport: new(true)}
	})
	e.open(u, content)
	head := lineOf(t, content, `def Xform "head"`)
	asked := func() int { return e.lensRefreshes }
	if got := e.lensOver(u, head); !headChange.MatchString(got) {
		e.await("lenses to be asked for again", func() bool { return asked() > 0 })
		if got := e.lensOver(u, head); !headChange.MatchString(got) {
			t.Errorf("once compared: %s", got)
		}
	}
	e.mu.Lock()
	before := asked()
	e.mu.Unlock()
	path := write(t, dir, "deckhand_spline.usda", content)
	e.watched(path)
	e.await("lenses to be asked for again after a new export", func() bool { return asked() > before })
	for range 50 {
		if got := e.lensOver(u, head); !strings.Contains(got, "since") {
			return
		}
		sleep(t.Context(), comparePatience)
	}
	t.Error("the lens speaks of an earlier pass that has changed")
}

// TestEarlierOfAnotherShot names another performance as the earlier pass: nothing is
// said to have changed since, and the command says why.
func TestEarlierOfAnotherShot(t *testing.T) {
	dir := ferry(t)
	text := map[string]string{}
	for name, seed := range map[string]designed.Seed{"look_spline.usda": 5, "look_polish.usda": 6} {
		var b bytes.Buffer
		if err := designedwrite.USDA(&b, natural.Shot(natural.Acting, natural.Options{Seed: seed, Seconds: 5}).Take(24)); err != nil {
			t.Fatal(err)
		}
		text[name] = b.String()
		write(t, dir, name, text[name])
	}
	write(t, dir, "curvelint.toml", "[[pass]]\nname = \"*_polish.usda\"\nbefore = \"*_spline.usda\"\n")
	u := uri.File(filepath.Join(dir, "look_polish.usda"))
	e := start(t, inFolder(dir))
	e.open(u, text["look_polish.usda"])
	for i, line := range strings.Split(text["look_polish.usda"], "\n") {
		if strings.Contains(line, `def Xform "head"`) {
			if got := e.lensOver(u, i); strings.Contains(got, "since") {
				t.Errorf("lens: %s", got)
			}
			if got := e.hover(u, at(i, 8)); strings.Contains(got, "since") {
				t.Errorf("hover: %s", got)
			}
		}
	}
	c := execute[compared](e, commandCompare, compareArguments{URI: u, Quiet: true})
	if !strings.Contains(c.Text, "not compared: expected two passes of one shot") || strings.Contains(c.Text, "beats") {
		t.Errorf("the command says %q", c.Text)
	}
}

// TestEarlierOutside has an earlier pass outside the folders that may be read.
func TestEarlierOutside(t *testing.T) {
	outside, _, content := twoPasses(t)
	dir := t.TempDir()
	rel, err := filepath.Rel(dir, outside)
	if err != nil {
		t.Fatal(err)
	}
	write(t, dir, "curvelint.toml", "[[pass]]\nname = \"*_polish.usda\"\nbefore = '"+filepath.ToSlash(rel)+"/*_spline.usda'\n")
	u := uri.File(write(t, dir, "deckhand_polish.usda", content))
	e := start(t, inFolder(dir))
	e.open(u, content)
	if got := e.lensOver(u, lineOf(t, content, `def Xform "head"`)); strings.Contains(got, "since") {
		t.Errorf("a file outside was read: %s", got)
	}
}

// TestHoverPicture has a hover with a chart of the move for a client that shows
// pictures, and with bars for one that does not.
func TestHoverPicture(t *testing.T) {
	picture := regexp.MustCompile(`!\[spacing of head, frames 1035-1047\]\(data:image/svg\+xml;base64,([^)]*)\)`)
	for _, tt := range []struct {
		options string
		want    bool
	}{{`{}`, false}, {`{"hoverImages": false}`, false}, {`{"hoverImages": true}`, true}, {`{"hoverImages": "dark"}`, true}} {
		e, u, text := opened(t, "deckhand_spline.usda", func(p *protocol.InitializeParams) {
			p.InitializationOptions = protocol.LSPAny(tt.options)
		})
		got := e.hover(u, at(lineWith(t, text, `def Xform "head"`, "1040:"), 20))
		m := picture.FindStringSubmatch(got)
		if (m != nil) != tt.want || strings.Contains(got, "█") == tt.want {
			t.Errorf("%s: %.2000s", tt.options, got)
			continue
		}
		if m == nil {
			continue
		}
		if svg, err := base64.StdEncoding.DecodeString(m[1]); err != nil || !strings.Contains(string(svg), "<svg") {
			t.Errorf("%s: %v, %.80s", tt.options, err, svg)
		}
		// VS Code cuts Markdown at 100,000 characters; from memory.
		if len(got) > 60_000 {
			t.Errorf("%s: a hover of %d bytes", tt.options, len(got))
		}
		t.Log(len(got))
	}
}

// TestHostileNames has a part whose name would be markup.
func TestHostileNames(t *testing.T) {
	for text, want := range map[string]string{
		"left_arm, frame 3 -> 4": "left_arm, frame 3 -> 4",
		"![x](http://a/b)":       `!\[x\](http://a/b)`,
		"_x_ *y* `z`":            "\\_x\\_ \\*y\\* \\`z\\`",
		"<img src=x>&amp;":       `\<img src=x>\&amp;`,
		"a\x1b[2Jb":              `a\\x1b\[2Jb`,
	} {
		if got := escaped(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
	h := sheet{name: "a`b", beside: "x", facts: []sheetLine{{text: "bars", code: "a`b"}}}
	if got := h.markdown(); got != "**a\\`b** x  \nbars `a'b`" {
		t.Errorf("markdown %q", got)
	}
	if got := h.plain(); got != "a`b x\nbars a`b" {
		t.Errorf("plain %q", got)
	}
}
