package kit

import "testing"

func TestWithPicture(t *testing.T) {
	const doc = "# x: y\n\nWhat.\n\nWhy.\n\nHow.\n"
	const want = "# x: y\n\nWhat.\n\nWhy.\n\n![a (b) c](pictures/x.svg)\n\nHow.\n"
	got := WithPicture(doc, "pictures/x.svg", "a [b] c")
	if got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got = WithPicture(got, "pictures/x.svg", "a (b) c"); got != want {
		t.Errorf("twice: got %q, want %q", got, want)
	}
	const last = "# x: y\n\nWhat.\n\nWhy.\n\n![b](pictures/x-threshold.svg)\n\nSource: none.\n"
	if got = WithPicture("# x: y\n\nWhat.\n\nWhy.\n\nSource: none.\n", "pictures/x-threshold.svg", "b"); got != last {
		t.Errorf("before the source: got %q, want %q", got, last)
	}
}
