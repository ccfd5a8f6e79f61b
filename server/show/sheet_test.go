package show

import "testing"

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
	h := Sheet{name: "a`b", beside: "x", facts: []sheetLine{{text: "bars", code: "a`b"}}}
	if got := h.markdown(); got != "**a\\`b** x  \nbars `a'b`" {
		t.Errorf("markdown %q", got)
	}
	if got := h.plain(); got != "a`b x\nbars a`b" {
		t.Errorf("plain %q", got)
	}
}
