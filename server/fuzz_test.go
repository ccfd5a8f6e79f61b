package server_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"testing"
	"time"

	"curvelint/server"
)

// recording is a connection that says what it was given, then ends, and hears
// nothing.
type recording struct{ io.Reader }

func (recording) Write(b []byte) (int, error) { return len(b), nil }
func (recording) Close() error                { return nil }

// FuzzServe gives the server a document, a message about it and bytes behind: it
// neither panics nor hangs.
func FuzzServe(f *testing.F) {
	for i, p := range fragments {
		f.Add([]byte("HIERARCHY\nROOT a\n{\nOFFSET 0 0 0\nCHANNELS 1 Xrotation\n}\nMOTION\nFrames: 2\nFrame Time: 0.04\n1\n2\n"), uint8(i), []byte(p), []byte{})
		f.Add([]byte("#usda 1.0\ndef Xform \"a\" {\n"), uint8(i*7), []byte(p), []byte("Content-Length: 2\r\n\r\n{}"))
	}
	f.Fuzz(func(t *testing.T, text []byte, method uint8, params, rest []byte) {
		var b bytes.Buffer
		say := func(body string) { fmt.Fprintf(&b, "Content-Length: %d\r\n\r\n%s", len(body), body) }
		say(sayHello)
		say(`{"jsonrpc":"2.0","method":"initialized","params":{}}`)
		quoted, err := json.Marshal(string(text))
		if err != nil {
			t.Fatal(err)
		}
		say(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///tug/a.usda","version":7,"languageId":"usda","text":` + string(quoted) + `}}}`)
		say(fmt.Sprintf(`{"jsonrpc":"2.0","id":5,"method":%q,"params":%s}`, methods[int(method)%len(methods)], params))
		b.Write(rest)
		done := make(chan struct{})
		go func() {
			server.Serve(context.Background(), recording{&b}, server.Options{})
			close(done)
		}()
		select {
		case <-done:
		case <-time.After(60 * time.Second):
			t.Fatal("the server still runs a minute after its connection ended")
		}
	})
}
