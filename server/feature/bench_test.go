package feature_test

import (
	"encoding/json"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/cmd/lab/editor"
	"curvelint/parse/text"
	"curvelint/server"
	"curvelint/server/wire"
)

// The budget of what an editor asks for while somebody reads: 5 ms on a file of
// 5 MB, for a range as long as a screen.
const (
	benchBytes  = 5 << 20
	screenLines = 60
)

// benchShot opens a bake of about 5 MB and returns its lines.
func benchShot(b *testing.B, format string) (*editor.Editor, uri.URI, *text.Index) {
	b.Helper()
	content := editor.Bake(b, format, benchBytes)
	e := editor.Start(b, func(p *protocol.InitializeParams) {
		editor.Everything(p)
		p.InitializationOptions = protocol.LSPAny(`{"hoverImages": true}`)
	})
	u := uri.File("/ferry/bake." + format)
	e.Open(u, string(content))
	if _, err := e.Server.DocumentSymbol(b.Context(), &protocol.DocumentSymbolParams{TextDocument: editor.Doc(u)}); err != nil {
		b.Fatal(err)
	}
	return e, u, text.NewIndex(content)
}

// eachFormat measures how long the server takes from a request, read, to its
// answer, written.
func eachFormat(b *testing.B, ask func(s *server.Server, u uri.URI, x *text.Index, turn int) (any, error)) {
	for _, format := range []string{"usda", "bvh"} {
		b.Run(format, func(b *testing.B) {
			e, u, x := benchShot(b, format)
			b.ReportAllocs()
			turn := 0
			for b.Loop() {
				answer, err := ask(e.Inside, u, x, turn)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := (wire.Codec{}).Marshal(answer); err != nil {
					b.Fatal(err)
				}
				turn++
			}
		})
	}
}

func BenchmarkHints(b *testing.B) {
	eachFormat(b, func(s *server.Server, u uri.URI, x *text.Index, turn int) (any, error) {
		line := turn * 997 % (x.Lines() - screenLines)
		return s.InlayHint(b.Context(), &protocol.InlayHintParams{TextDocument: editor.Doc(u), Range: editor.Span(line, 0, line+screenLines, 0)})
	})
}

func BenchmarkHover(b *testing.B) {
	eachFormat(b, func(s *server.Server, u uri.URI, x *text.Index, turn int) (any, error) {
		return s.Hover(b.Context(), &protocol.HoverParams{TextDocumentPositionParams: protocol.TextDocumentPositionParams{
			TextDocument: editor.Doc(u), Position: editor.At(turn*997%x.Lines(), 20)}})
	})
}

func BenchmarkSymbols(b *testing.B) {
	eachFormat(b, func(s *server.Server, u uri.URI, x *text.Index, turn int) (any, error) {
		return s.Outline(b.Context(), &protocol.DocumentSymbolParams{TextDocument: editor.Doc(u)})
	})
}

func BenchmarkTokens(b *testing.B) {
	eachFormat(b, func(s *server.Server, u uri.URI, x *text.Index, turn int) (any, error) {
		line := turn * 997 % (x.Lines() - screenLines)
		return s.SemanticTokensRange(b.Context(), &protocol.SemanticTokensRangeParams{TextDocument: editor.Doc(u), Range: editor.Span(line, 0, line+screenLines, 0)})
	})
}

func BenchmarkLenses(b *testing.B) {
	eachFormat(b, func(s *server.Server, u uri.URI, x *text.Index, turn int) (any, error) {
		return s.CodeLens(b.Context(), &protocol.CodeLensParams{TextDocument: editor.Doc(u)})
	})
}

func BenchmarkLensResolve(b *testing.B) {
	eachFormat(b, func(s *server.Server, u uri.URI, x *text.Index, turn int) (any, error) {
		data, err := json.Marshal(map[string]any{"uri": u, "part": turn % 64})
		if err != nil {
			return nil, err
		}
		return s.CodeLensResolve(b.Context(), &protocol.CodeLens{Data: data})
	})
}
