package wire

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
)

// message wraps the parameters of didOpen.
func message(params string) []byte {
	return []byte(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":` + params + `}`)
}

// openedParams reads the parameters of a message as the server does, or returns false
// when it leaves the text where it is.
func openedParams(t testing.TB, data []byte, own bool) (p protocol.DidOpenTextDocumentParams, ok bool) {
	t.Helper()
	var a LongTexts
	before := bytes.Clone(data)
	rest, ok := a.cut(data, own)
	if (!ok || !own) && !bytes.Equal(before, data) {
		t.Fatalf("%q was written over: %q", before, data)
	}
	var m struct{ Params json.RawMessage }
	if !ok || json.Unmarshal(rest, &m) != nil || protocol.Unmarshal(m.Params, &p) != nil {
		return p, false
	}
	text, ok := a.Take(p.TextDocument.Text)
	p.TextDocument.Text = string(text)
	if _, again := a.Take(p.TextDocument.Text); again {
		t.Fatal("the text was given twice")
	}
	return p, ok
}

// checkOpened holds texts taken out against the library's reading.
func checkOpened(t *testing.T, params string) bool {
	t.Helper()
	got, ok := openedParams(t, message(params), false)
	over, also := openedParams(t, message(params), true)
	if got != over || ok != also {
		t.Fatalf("%s: %+v (%v), in place %+v (%v)", params, got, ok, over, also)
	}
	if !ok {
		return false
	}
	var m struct{ Params json.RawMessage }
	var want protocol.DidOpenTextDocumentParams
	if err := json.Unmarshal(message(params), &m); err != nil {
		t.Fatalf("%q was read, the library says %v", params, err)
	}
	if err := protocol.Unmarshal(m.Params, &want); err != nil {
		t.Fatalf("%q was read, the library says %v", params, err)
	}
	if got != want {
		t.Fatalf("%q: read %+v, the library reads %+v", params, got, want)
	}
	return true
}

func TestLongTexts(t *testing.T) {
	const before = `{"textDocument":{"uri":"file:///tug/a.usda","languageId":"usda","version":3,"text":`
	for _, test := range []struct {
		params string
		want   bool
	}{
		{before + `""}}`, true},
		{before + `"plain"}}`, true},
		{before + ` "#usda 1.0\n\tdef \"Gull\" {\r\n} \/ \\ \b\f" } }`, true},
		{before + `"gr\u00FCn \u20ac é 日本 🙂"}}`, true},
		{before + `"` + strings.Repeat(`\u000a`, 99) + `"}}`, true},
		{before + `"\ud83d\ude42"}}`, false}, // a pair of escapes
		{before + `"\ud83d"}}`, false},
		{before + `"\u00g0"}}`, false},
		{before + `"\u+0e9"}}`, false},
		{before + `"\u0_e9"}}`, false},
		{before + `"\x"}}`, false},
		{before + `"\"}}`, false},
		{before + `"line
feed"}}`, false},
		{before + "\"\xff\"}}", false},
		{before + `"twice","text":"b"}}`, false},
		{before + `"more"}} x`, false},
		{before + `null}}`, false},
		{before + `"then \"text\":\"b\""}}`, true},
		{`{"textDocument":{"languageId":"text","text":"a","version":1,"uri":"file:///a.csv"}}`, true},
		{`{"text":"a","textDocument":{"uri":"file:///a.csv","text":"b"}}`, false},
		{`{"textDocument":{"x":{"text":"a"},"text":"b"}}`, false},
		{`{"textDocument":{"uri":"file:///\"text\":\"a\"","text":"b"}}`, false},
	} {
		if got := checkOpened(t, test.params); got != test.want {
			t.Errorf("%s: read %v, want %v", test.params, got, test.want)
		}
	}
}

func FuzzLongTexts(f *testing.F) {
	f.Add(`{"textDocument":{"uri":"file:///a","languageId":"bvh","version":1,"text":"a\n\u00fcé\"\\"}}`)
	f.Add(`{"text" : 1, "textDocument" : {"text" : "\/"}}`)
	f.Fuzz(func(t *testing.T, params string) { checkOpened(t, params) })
}

// BenchmarkLongTexts reads a message that opens a text of 5 MB, as we do and as
// the library does.
func BenchmarkLongTexts(b *testing.B) {
	for name, text := range map[string]string{"long lines": strings.Repeat(strings.Repeat("1.25 ", 400)+"\n", 2500),
		"short lines": strings.Repeat("\t\"name\": 12,\n", 400_000)} {
		quoted, err := json.Marshal(text)
		if err != nil {
			b.Fatal(err)
		}
		params := fmt.Appendf(nil, `{"textDocument":{"uri":"file:///a.bvh","languageId":"bvh","version":1,"text":%s}}`, quoted)
		data := message(string(params))
		b.Run(name+"/ours", func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				if _, ok := openedParams(b, bytes.Clone(data), true); !ok {
					b.Fatal("not read")
				}
			}
		})
		b.Run(name+"/library", func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				var p protocol.DidOpenTextDocumentParams
				if err := protocol.Unmarshal(params, &p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
