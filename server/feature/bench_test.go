package server

import (
	"bytes"
	"encoding/json"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/cmd/lab/designed"
	asfile "curvelint/cmd/lab/designed/write"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// The budget of what an editor asks for while somebody reads: 5 ms on a file of
// 5 MB, for a range as long as a screen.
const (
	benchBytes  = 5 << 20
	screenLines = 60
)

// benchShot opens a bake of about 5 MB and returns its lines.
func benchShot(b *testing.B, format string) (*editor, uri.URI, *text.Index) {
	b.Helper()
	content := bakeOf(b, format, benchBytes)
	e := start(b, func(p *protocol.InitializeParams) {
		everything(p)
		p.InitializationOptions = protocol.LSPAny(`{"hoverImages": true}`)
	})
	u := uri.File("/ferry/bake." + format)
	e.open(u, string(content))
	if _, err := e.server.DocumentSymbol(b.Context(), &protocol.DocumentSymbolParams{TextDocument: doc(u)}); err != nil {
		b.Fatal(err)
	}
	return e, u, text.NewIndex(content)
}

// bakeOf writes a bake of about the given size.
func bakeOf(b testing.TB, format string, size int) []byte {
	b.Helper()
	formats := map[string]func(*bytes.Buffer, *designed.Take) error{
		"usda": func(w *bytes.Buffer, t *designed.Take) error { return asfile.USDA(w, t) },
		"bvh":  func(w *bytes.Buffer, t *designed.Take) error { return asfile.BVH(w, t) },
	}
	frames := 100
	for {
		var w bytes.Buffer
		if err := formats[format](&w, designed.Bake(64, frames)); err != nil {
			b.Fatal(err)
		}
		if w.Len() > size*9/10 {
			return w.Bytes()
		}
		frames = max(frames+1, frames*size/w.Len())
	}
}

// eachFormat measures how long the server takes from a request, read, to its
// answer, written.
func eachFormat(b *testing.B, ask func(s *Server, u uri.URI, x *text.Index, turn int) (any, error)) {
	for _, format := range []string{"usda", "bvh"} {
		b.Run(format, func(b *testing.B) {
			e, u, x := benchShot(b, format)
			b.ReportAllocs()
			turn := 0
			for b.Loop() {
				answer, err := ask(e.inside, u, x, turn)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := (codec{}).Marshal(answer); err != nil {
					b.Fatal(err)
				}
				turn++
			}
		})
	}
}

func BenchmarkHints(b *testing.B) {
	eachFormat(b, func(s *Server, u uri.URI, x *text.Index, turn int) (any, error) {
		line := turn * 997 % (x.Lines() - screenLines)
		return s.InlayHint(b.Context(), &protocol.InlayHintParams{TextDocument: doc(u), Range: span(line, 0, line+screenLines, 0)})
	})
}

func BenchmarkHover(b *testing.B) {
	eachFormat(b, func(s *Server, u uri.URI, x *text.Index, turn int) (any, error) {
		return s.Hover(b.Context(), &protocol.HoverParams{TextDocumentPositionParams: protocol.TextDocumentPositionParams{
			TextDocument: doc(u), Position: at(turn*997%x.Lines(), 20)}})
	})
}

func BenchmarkSymbols(b *testing.B) {
	eachFormat(b, func(s *Server, u uri.URI, x *text.Index, turn int) (any, error) {
		return s.symbols(b.Context(), &protocol.DocumentSymbolParams{TextDocument: doc(u)})
	})
}

func BenchmarkTokens(b *testing.B) {
	eachFormat(b, func(s *Server, u uri.URI, x *text.Index, turn int) (any, error) {
		line := turn * 997 % (x.Lines() - screenLines)
		return s.SemanticTokensRange(b.Context(), &protocol.SemanticTokensRangeParams{TextDocument: doc(u), Range: span(line, 0, line+screenLines, 0)})
	})
}

func BenchmarkLenses(b *testing.B) {
	eachFormat(b, func(s *Server, u uri.URI, x *text.Index, turn int) (any, error) {
		return s.CodeLens(b.Context(), &protocol.CodeLensParams{TextDocument: doc(u)})
	})
}

func BenchmarkLensResolve(b *testing.B) {
	eachFormat(b, func(s *Server, u uri.URI, x *text.Index, turn int) (any, error) {
		data, err := json.Marshal(lensData{URI: u, Part: scene.PartID(turn % 64)})
		if err != nil {
			return nil, err
		}
		return s.CodeLensResolve(b.Context(), &protocol.CodeLens{Data: data})
	})
}
