package server

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
)

// checkOpenParams holds openParams against the library's reading.
func checkOpenParams(t *testing.T, data []byte) bool {
	t.Helper()
	var want protocol.DidOpenTextDocumentParams
	got, text, ok := openParams(data)
	if !ok {
		return false
	}
	got.TextDocument.Text = string(text)
	if err := protocol.Unmarshal(data, &want); err != nil {
		t.Fatalf("%q was read, the library says %v", data, err)
	}
	if got != want {
		t.Fatalf("%q: read %+v, the library reads %+v", data, got, want)
	}
	return true
}

func TestOpenParams(t *testing.T) {
	const before = `{"textDocument":{"uri":"file:///tug/a.usda","languageId":"usda","version":3,"text":`
	for _, test := range []struct {
		data string
		want bool
	}{
		{before + `""}}`, true},
		{before + `"plain"}}`, true},
		{before + ` "#usda 1.0\n\tdef \"Gull\" {\r\n} \/ \\ \b\f" } }`, true},
		{before + `"gr\u00FCn \u20ac é 日本 🙂"}}`, true},
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
		if got := checkOpenParams(t, []byte(test.data)); got != test.want {
			t.Errorf("%s: read %v, want %v", test.data, got, test.want)
		}
	}
}

func FuzzOpenParams(f *testing.F) {
	f.Add([]byte(`{"textDocument":{"uri":"file:///a","languageId":"bvh","version":1,"text":"a\n\u00fcé\"\\"}}`))
	f.Add([]byte(`{"text" : 1, "textDocument" : {"text" : "\/"}}`))
	f.Fuzz(func(t *testing.T, data []byte) { checkOpenParams(t, data) })
}

// BenchmarkOpenParams reads a message that opens a text of 5 MB, as we do and as
// many times faster that is than the library.
func BenchmarkOpenParams(b *testing.B) {
	for name, text := range map[string]string{"long lines": strings.Repeat(strings.Repeat("1.25 ", 400)+"\n", 2500),
		"short lines": strings.Repeat("\t\"name\": 12,\n", 400_000)} {
		quoted, err := json.Marshal(text)
		if err != nil {
			b.Fatal(err)
		}
		data := fmt.Appendf(nil, `{"textDocument":{"uri":"file:///a.bvh","languageId":"bvh","version":1,"text":%s}}`, quoted)
		b.Run(name+"/ours", func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				if _, _, ok := openParams(data); !ok {
					b.Fatal("not read")
				}
			}
		})
		b.Run(name+"/library", func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				var p protocol.DidOpenTextDocumentParams
				if err := protocol.Unmarshal(data, &p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
