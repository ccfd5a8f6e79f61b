package text

import (
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

// TestEncodingExample is the example of the Language Server Protocol 3.17,
// section "Position encoding": in the line a, U+10400, b the character b is at
// 3 in UTF-16, 5 in UTF-8, 2 in UTF-32.
func TestEncodingExample(t *testing.T) {
	x := NewIndex([]byte("first\na\U00010400b\n"))
	for enc, column := range map[Encoding]int{UTF8: 5, UTF16: 3, UTF32: 2} {
		pos := Position{Line: 1, Column: column}
		if got, err := x.Offset(pos, enc); got != 11 || err != nil {
			t.Errorf("%v: offset of %v is %d, %v; want 11", enc, pos, got, err)
		}
		if got, err := x.Position(11, enc); got != pos || err != nil {
			t.Errorf("%v: position of 11 is %v, %v; want %v", enc, got, err, pos)
		}
	}
}

func TestLines(t *testing.T) {
	tests := []struct {
		src  string
		want []string
	}{
		{"", []string{""}},
		{"a", []string{"a"}},
		{"a\n", []string{"a", ""}},
		{"a\nb", []string{"a", "b"}},
		{"a\r\nb\r\n", []string{"a", "b", ""}},
		{"a\rb\r", []string{"a", "b", ""}},
		{"\n\r\r\n\n", []string{"", "", "", "", ""}},
		{"\uFEFFa\nb", []string{"a", "b"}},
		{"\uFEFF", []string{""}},
		{"mixed\rends\nof\r\nlines", []string{"mixed", "ends", "of", "lines"}},
	}
	for _, tt := range tests {
		x := NewIndex([]byte(tt.src))
		var got []string
		for line := range x.Lines() {
			start, end := x.Bounds(line)
			got = append(got, tt.src[start:end])
		}
		if !reflect.DeepEqual(got, tt.want) {
			t.Errorf("%q: lines %q, want %q", tt.src, got, tt.want)
		}
	}
}

func TestOutside(t *testing.T) {
	x := NewIndex([]byte("winch\r\nropé\n"))
	offsets := []struct {
		pos  Position
		enc  Encoding
		near int
	}{
		{Position{-1, 0}, UTF16, 0},
		{Position{0, -1}, UTF16, 0},
		{Position{0, 6}, UTF16, 5},
		{Position{1, 5}, UTF16, 12},
		{Position{1, 6}, UTF8, 12},
		{Position{2, 1}, UTF32, 13},
		{Position{3, 0}, UTF16, 13},
		{Position{1 << 40, 1 << 40}, UTF16, 13},
	}
	for _, tt := range offsets {
		if got, err := x.Offset(tt.pos, tt.enc); err == nil || got != tt.near {
			t.Errorf("offset of %v in %v: %d, %v; want an error and %d", tt.pos, tt.enc, got, err, tt.near)
		}
	}
	for offset, near := range map[int]Position{-1: {0, 0}, 14: {2, 0}, 1 << 40: {2, 0}} {
		if got, err := x.Position(offset, UTF16); err == nil || got != near {
			t.Errorf("position of %d: %v, %v; want an error and %v", offset, got, err, near)
		}
	}
}

func TestInsideCharacters(t *testing.T) {
	x := NewIndex([]byte("\uFEFFé\U00010400\r\n\xff\xbf"))
	positions := []struct {
		offset int
		enc    Encoding
		want   Position
	}{
		{0, UTF16, Position{0, 0}},
		{2, UTF8, Position{0, 0}},
		{3, UTF8, Position{0, 0}},
		{4, UTF8, Position{0, 0}},
		{5, UTF8, Position{0, 2}},
		{7, UTF16, Position{0, 1}},
		{9, UTF16, Position{0, 3}},
		{10, UTF16, Position{0, 3}},
		{12, UTF16, Position{1, 1}},
		{13, UTF16, Position{1, 2}},
	}
	for _, tt := range positions {
		if got, err := x.Position(tt.offset, tt.enc); got != tt.want || err != nil {
			t.Errorf("position of %d in %v: %v, %v; want %v", tt.offset, tt.enc, got, err, tt.want)
		}
	}
	for pos, want := range map[Position]int{{0, 0}: 3, {0, 1}: 5, {0, 2}: 5, {0, 3}: 9} {
		if got, err := x.Offset(pos, UTF16); got != want || err != nil {
			t.Errorf("offset of %v: %d, %v; want %d", pos, got, err, want)
		}
	}
	if got, err := x.Offset(Position{0, 1}, UTF8); got != 3 || err != nil {
		t.Errorf("a column inside a character: %d, %v; want 3", got, err)
	}
}

// piece returns random text rich in line ends and wide characters.
func piece(r *rand.Rand, n int) string {
	var b strings.Builder
	alphabet := []string{"a", "b", "\n", "\r", "\r\n", "é", "\U00010400", "\xff", " "}
	for range r.IntN(n) {
		b.WriteString(alphabet[r.IntN(len(alphabet))])
	}
	return b.String()
}

// TestRoundTrip checks that every character's offset comes back from its
// position in each encoding.
func TestRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		src := piece(r, 40)
		x := NewIndex([]byte(src))
		for i := range src {
			if i > 0 && src[i-1] == '\r' && src[i] == '\n' {
				continue
			}
			for _, enc := range []Encoding{UTF8, UTF16, UTF32} {
				pos, err := x.Position(i, enc)
				if err != nil {
					t.Fatal(err)
				}
				if back, err := x.Offset(pos, enc); err != nil || back != i {
					t.Fatalf("%q: offset %d is %v in %v, which is offset %d (%v)", src, i, pos, enc, back, err)
				}
			}
		}
	}
}

// TestUpdate holds an index after random edits to one made anew.
func TestUpdate(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 3000 {
		x := NewIndex([]byte(piece(r, 30)))
		for range 4 {
			n := len(x.Text())
			start := r.IntN(n + 1)
			end := start + r.IntN(n-start+1)
			next, err := x.Update(start, end, []byte(piece(r, 6)))
			if err != nil {
				t.Fatal(err)
			}
			if want := NewIndex(next.Text()); !reflect.DeepEqual(next.starts, want.starts) {
				t.Fatalf("%q: lines start at %v, want %v", next.Text(), next.starts, want.starts)
			}
			x = next
		}
	}
	for _, edit := range [][2]int{{-1, 0}, {2, 1}, {0, 99}} {
		if _, err := NewIndex([]byte("rope")).Update(edit[0], edit[1], nil); err == nil {
			t.Errorf("no error for the edit of %v", edit)
		}
	}
}

func FuzzIndex(f *testing.F) {
	f.Add([]byte("a\r\nb\U00010400\r\n\xff"), 1, 2, 3)
	f.Fuzz(func(t *testing.T, src []byte, line, column, offset int) {
		x := NewIndex(src)
		for _, enc := range []Encoding{UTF8, UTF16, UTF32} {
			if o, err := x.Offset(Position{line, column}, enc); o < 0 || o > len(src) {
				t.Fatalf("offset %d outside the text (%v)", o, err)
			}
			pos, err := x.Position(offset, enc)
			if (err != nil) != (offset < 0 || offset > len(src)) {
				t.Fatalf("offset %d of %d: %v", offset, len(src), err)
			}
			if _, err := x.Offset(pos, enc); err != nil {
				t.Fatalf("%v came from offset %d but is outside: %v", pos, offset, err)
			}
		}
	})
}
