package text

import (
	"bytes"
	"encoding/binary"
	"testing"
	"unicode/utf16"
)

// encode16 writes s in UTF-16.
func encode16(s string, order binary.AppendByteOrder) (b []byte) {
	for _, u := range utf16.Encode([]rune(s)) {
		b = order.AppendUint16(b, u)
	}
	return b
}

func encode32(s string, order binary.AppendByteOrder) (b []byte) {
	for _, r := range s {
		b = order.AppendUint32(b, uint32(r))
	}
	return b
}

func TestDecode(t *testing.T) {
	const s = "<rope länge=\"\U00010400\"/>\r\n"
	big, little := binary.BigEndian, binary.LittleEndian
	tests := map[string]struct {
		raw     []byte
		want    string
		decoded bool
	}{
		"empty":                      {nil, "", false},
		"UTF-8":                      {[]byte(s), s, false},
		"UTF-8 with a mark":          {[]byte(bom + s), bom + s, false},
		"little UTF-16 with a mark":  {encode16(bom+s, little), s, true},
		"big UTF-16 with a mark":     {encode16(bom+s, big), s, true},
		"little UTF-16":              {encode16(s, little), s, true},
		"big UTF-16":                 {encode16(s, big), s, true},
		"little UTF-32 with a mark":  {encode32(bom+s, little), s, true},
		"big UTF-32 with a mark":     {encode32(bom+s, big), s, true},
		"lone surrogates":            {encode16(bom+"a", little), "a", true},
		"high surrogate at the end":  {[]byte{0xFE, 0xFF, 0xD8, 0x01}, "\uFFFD", true},
		"low surrogate first":        {[]byte{0xFE, 0xFF, 0xDC, 0x01, 0, 'a'}, "\uFFFDa", true},
		"high surrogate, then plain": {[]byte{0xFE, 0xFF, 0xD8, 0x01, 0, 'a'}, "\uFFFDa", true},
		"short":                      {[]byte("a\x00"), "a\x00", false},
	}
	for name, tt := range tests {
		got, decoded, err := Decode(tt.raw)
		if string(got) != tt.want || decoded != tt.decoded || err != nil {
			t.Errorf("%s: %q, %v, %v; want %q, %v", name, got, decoded, err, tt.want, tt.decoded)
		}
	}
}

func TestDecodeCutShort(t *testing.T) {
	for _, raw := range [][]byte{
		append(encode16(bom+"rope", binary.LittleEndian), 'x'),
		append(encode32(bom+"rope", binary.BigEndian), 0, 0),
	} {
		got, _, err := Decode(raw)
		if err == nil || string(got) != "rope" {
			t.Errorf("%q: %q, %v; want the text and an error", raw, got, err)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte("\xff\xfea\x00"))
	f.Add([]byte("\x00\x00\xfe\xff\x00\x00\x00a"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		got, decoded, _ := Decode(raw)
		if !decoded && !bytes.Equal(got, raw) {
			t.Fatal("undecoded text differs from the file")
		}
		if len(got) > 2*len(raw) {
			t.Fatalf("%d bytes became %d", len(raw), len(got))
		}
	})
}
