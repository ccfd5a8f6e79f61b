package gltf

import (
	"bytes"
	"encoding/base64"
	"net/url"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"curvelint/parse/scene"
)

// buffer is a buffer: bytes in a data URI or in a file beside.
type buffer struct {
	span    scene.Span
	claimed int // byteLength
	lenSpan scene.Span
	uri     scene.Span // the string between its quotes
	hasURI  bool
	opened  bool
	failed  bool
	size    int
	bytes   []byte // unless encoded
	encoded []byte // base64
	inPlace bool   // encoded is part of the text of the file
	short   bool   // reported that it holds less than it claims
}

// bufferView is a range of a buffer.
type bufferView struct {
	span           scene.Span
	buffer         int
	bufferSpan     scene.Span
	offset, length int
	stride         int
	compressed     bool
}

func (p *parser) buffer() (b buffer) {
	r := p.r
	b.claimed = -1
	b.span = r.object(func(name string, at scene.Span) {
		switch name {
		case "byteLength":
			b.lenSpan = p.at(func() { b.claimed = r.index("a number of bytes") })
		case "uri":
			if r.kind() != '"' {
				r.expected("a string")
				return
			}
			b.uri = r.raw()
			b.hasURI = !r.failed
			if b.uri.End >= b.uri.Start+2 {
				b.uri.Start++
				b.uri.End--
			}
		}
	})
	return b
}

func (p *parser) bufferView() bufferView {
	v := bufferView{buffer: -1}
	r := p.r
	v.span = r.object(func(name string, at scene.Span) {
		switch name {
		case "buffer":
			v.bufferSpan = p.at(func() { v.buffer = r.index("the number of a buffer") })
		case "byteOffset":
			v.offset = max(r.index("a number of bytes"), 0)
		case "byteLength":
			v.length = max(r.index("a number of bytes"), 0)
		case "byteStride":
			v.stride = max(r.index("a number of bytes"), 0)
		case "extensions":
			r.object(func(name string, at scene.Span) {
				v.compressed = v.compressed || strings.HasSuffix(name, "_meshopt_compression")
			})
		}
	})
	return v
}

// open finds the bytes of a buffer; false, with a problem, when there are none.
func (p *parser) open(b *buffer) bool {
	if b.opened {
		return !b.failed
	}
	b.opened, b.failed = true, true
	if !b.hasURI {
		if p.r.failed {
			return false
		}
		p.syntax(b.span, "this buffer has no uri; only buffers in a data URI or in a file beside can be read")
		return false
	}
	raw := p.src[b.uri.Start:b.uri.End]
	b.inPlace = true
	if bytes.IndexByte(raw, '\\') >= 0 {
		b.inPlace = false
		if text, err := jsontext.AppendUnquote(nil, p.src[b.uri.Start-1:b.uri.End+1]); err == nil {
			raw = text
		}
	}
	if len(raw) >= 5 && strings.EqualFold(string(raw[:5]), "data:") {
		b.failed = !p.dataURI(b, raw[5:])
	} else {
		b.failed = !p.file(b, string(raw))
	}
	if !b.failed && b.claimed > b.size {
		b.short = true
		p.problems.Add(scene.PartialExport, b.lenSpan, "expected %d bytes in this buffer as byteLength says, found %d", b.claimed, b.size)
	}
	return !b.failed
}

// dataURI takes the bytes of a data URI behind "data:" (RFC 2397).
func (p *parser) dataURI(b *buffer, uri []byte) bool {
	comma := bytes.IndexByte(uri[:min(len(uri), 300)], ',')
	if comma < 0 {
		p.syntax(span(int(b.uri.Start), int(min(b.uri.Start+20, b.uri.End))), "expected a comma before the data of this data URI")
		return false
	}
	kind, data := uri[:comma], uri[comma+1:]
	if !bytes.HasSuffix(kind, []byte(";base64")) {
		text, err := url.PathUnescape(string(data))
		if err != nil {
			p.syntax(span(int(b.uri.Start), int(min(b.uri.Start+20, b.uri.End))), "the data of this data URI is not escaped rightly: %s", plain(err.Error()))
			return false
		}
		b.bytes = []byte(text)
		b.size = len(b.bytes)
		return true
	}
	if bytes.ContainsAny(data[:min(len(data), 200)], " \r\n\t%") {
		// Lines of base64, as mail has them.
		b.inPlace = false
		data = bytes.Join(bytes.Fields(bytes.ReplaceAll(data, []byte("%3D"), []byte("="))), nil)
	}
	data = bytes.TrimRight(data, "= \r\n\t")
	if len(data)%4 == 1 { // six bits are no byte
		data = data[:len(data)-1]
	}
	b.encoded = data
	b.size = base64.RawStdEncoding.DecodedLen(len(data))
	return true
}

// file reads a buffer from a file beside.
func (p *parser) file(b *buffer, uri string) bool {
	name := uri
	if plain, err := url.PathUnescape(uri); err == nil {
		name = plain
	}
	if p.o.Open == nil {
		p.problems.Add(scene.MissingFile, b.uri, "%s is not read here; the animation in it is left out", quote(name))
		return false
	}
	path, data, err := p.o.Open(p.name, name)
	if err != nil {
		p.problems.Add(scene.MissingFile, b.uri, "%s; the animation in it is left out", plain(err.Error()))
		p.s.Files = append(p.s.Files, &scene.File{Path: name, Missing: true})
		return false
	}
	p.s.Files = append(p.s.Files, &scene.File{Path: path})
	b.bytes, b.size = data, len(data)
	p.budget += valuesPerByte * len(data)
	return true
}

// read copies the bytes from offset on to dst. The range must lie in the
// buffer. What is no base64 gives a base64.CorruptInputError with the offset in
// the encoded text.
func (b *buffer) read(dst []byte, offset int) error {
	if b.encoded == nil {
		copy(dst, b.bytes[offset:])
		return nil
	}
	// Three bytes are four characters.
	skip := offset % 3
	first := offset / 3 * 4
	last := min(first+(skip+len(dst)+2)/3*4, len(b.encoded))
	encoded := b.encoded[first:last]
	if skip == 0 && len(encoded)%4 == 0 && len(encoded)/4*3 == len(dst) {
		_, err := base64.RawStdEncoding.Decode(dst, encoded)
		return shifted(err, first)
	}
	var block [blockSize + 6]byte
	n, err := base64.RawStdEncoding.Decode(block[:], encoded)
	if err == nil {
		copy(dst, block[skip:n])
	}
	return shifted(err, first)
}

// blockSize is how many bytes are decoded at a time: a multiple of 3.
const blockSize = 6144

func shifted(err error, first int) error {
	if at, ok := err.(base64.CorruptInputError); ok {
		return at + base64.CorruptInputError(first)
	}
	return err
}

// corrupt reports that the text of a buffer is no base64, at the character.
func (p *parser) corrupt(b *buffer, err error) {
	at, _ := err.(base64.CorruptInputError)
	place := span(int(b.uri.Start), int(min(b.uri.Start+20, b.uri.End)))
	if b.inPlace {
		comma := bytes.IndexByte(p.src[b.uri.Start:b.uri.End], ',')
		i := int(b.uri.Start) + comma + 1 + int(at)
		place = span(i, min(i+1, int(b.uri.End)))
	}
	p.problems.Once(scene.Syntax, place, "base64 "+err.Error(), "expected base64 here, at character %d of the data; the accessors that need it are left out", int(at)+1)
}
