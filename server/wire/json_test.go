package wire

import (
	"encoding/json"
	"testing"
)

func TestAppendQuoted(t *testing.T) {
	for _, name := range []string{"", "hips", `a "winch"\`, "gr\u00fcn\u2028", "tab\tand\x7f", "\x00"} {
		var got string
		if b := AppendQuoted(nil, []byte(name)); json.Unmarshal(b, &got) != nil || got != name {
			t.Errorf("%q is quoted %s", name, b)
		}
	}
	if b := AppendQuoted([]byte("1,"), []byte("a\xffb")); string(b) != "1,\"a\uFFFDb\"" {
		t.Errorf("what is no UTF-8 is quoted %q", b)
	}
}
