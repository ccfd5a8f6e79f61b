package xmlscan

import (
	"bytes"
	"fmt"
	"strings"

	"curvelint/parse/scene"
)

// DefaultMaxDepth is how deep elements may nest when the caller names no other
// limit.
const DefaultMaxDepth = 256

// Kind says what a token is.
type Kind uint8

// The kinds of tokens.
const (
	EOF   Kind = iota // the end of the file; every Next after it gives EOF again
	Start             // a start tag; its attributes are at hand until the next token
	End               // an end tag, or the end of an element that has none
	Text              // a run of text that is not all white space, or a CDATA section
)

// Token is one piece of a document, the bytes [Pos, End) of the source.
type Token struct {
	Kind     Kind
	Pos, End int
	// Name is the name of a start or end tag without its namespace prefix. It
	// is part of the source and must not be changed.
	Name []byte
	// Escaped is true for text that holds references (&amp; &#32;). Read it
	// through Reader.Unescape. Text from a CDATA section is never escaped.
	Escaped bool
}

// Reader reads one document. It is not safe for concurrent use.
type Reader struct {
	src      []byte
	file     scene.FileID
	pos      int
	open     []element // the elements around pos
	pending  int       // how many of them to close before reading on
	closeAt  int       // where the first of them ends
	attrs    []Attr
	maxDepth int
	problems *scene.Problems

	// OnComment, if not nil, is given each comment: the bytes between its
	// marks. Comments are no tokens.
	OnComment func(start, end int)

	latin1     bool // bytes above 0x7F are ISO 8859-1 characters
	cut        bool // the file ends early
	badTag     bool // something wrong with the attributes of a tag was reported
	sawRoot    bool
	sawDeep    bool // the depth limit was reported
	sawEncoded bool // invalid UTF-8 was reported
	sawEntity  bool // a declared entity was reported
}

// element is where the name of an open element is written.
type element struct{ name, nameEnd uint32 }

// New returns a reader of the document src, which is in UTF-8 (or in another
// extension of ASCII) and shorter than 4 GiB. What is wrong with it is added to
// problems at spans of the given file. Elements nested deeper than maxDepth
// (DefaultMaxDepth if 0) are passed over with one problem.
func New(src []byte, file scene.FileID, maxDepth int, problems *scene.Problems) *Reader {
	if maxDepth <= 0 {
		maxDepth = DefaultMaxDepth
	}
	r := &Reader{src: src, file: file, maxDepth: maxDepth, problems: problems}
	r.prolog()
	return r
}

// Depth returns how many elements have been started and not yet ended: 1 after
// the start token of the root.
func (r *Reader) Depth() int { return len(r.open) }

// Cut reports whether the file ended early, as far as it has been read.
func (r *Reader) Cut() bool { return r.cut }

// Next returns the next token.
func (r *Reader) Next() Token {
	r.attrs = r.attrs[:0]
	for {
		if r.pending > 0 {
			return r.close()
		}
		p := r.pos
		for p < len(r.src) && isSpace(r.src[p]) {
			p++
		}
		if p == len(r.src) {
			if r.pos = p; len(r.open) == 0 {
				r.endOfFile()
				return Token{Kind: EOF, Pos: p, End: p}
			}
			r.unclosed()
			continue
		}
		if r.src[p] != '<' {
			if token, ok := r.text(r.pos, p); ok {
				return token
			}
			continue
		}
		if token, ok := r.markup(p); ok {
			return token
		}
	}
}

// close ends the innermost open element. Where several close at once, the tag
// that closes belongs to the outermost.
func (r *Reader) close() Token {
	e := r.open[len(r.open)-1]
	r.open = r.open[:len(r.open)-1]
	r.pending--
	token := Token{Kind: End, Pos: r.closeAt, End: r.closeAt, Name: local(r.src[e.name:e.nameEnd])}
	if r.pending == 0 {
		token.End = r.pos
	}
	return token
}

// text returns the run of text from start on, whose first byte that is no
// white space stands at p.
func (r *Reader) text(start, p int) (Token, bool) {
	end := len(r.src)
	if n := bytes.IndexByte(r.src[p:], '<'); n >= 0 {
		end = p + n
	}
	r.pos = end
	if len(r.open) == 0 {
		r.problem(scene.Syntax, p, min(end, p+20), "expected an element, found text outside the root element")
		return Token{}, false
	}
	return Token{Kind: Text, Pos: start, End: end, Escaped: bytes.IndexByte(r.src[p:end], '&') >= 0}, true
}

// markup reads what begins with the '<' at p. ok is false for what is no
// token: comments and instructions.
func (r *Reader) markup(p int) (token Token, ok bool) {
	rest := r.src[p:]
	switch {
	case len(rest) > 1 && rest[1] == '/':
		r.endTag(p)
		return Token{}, false
	case bytes.HasPrefix(rest, []byte("<!--")):
		r.comment(p)
	case bytes.HasPrefix(rest, []byte("<![CDATA[")):
		return r.cdata(p)
	case len(rest) > 1 && rest[1] == '?':
		r.pos = r.through(p, p+2, "?>", "a processing instruction")
	case len(rest) > 1 && rest[1] == '!':
		r.pos = r.doctype(p)
	default:
		return r.startTag(p)
	}
	return Token{}, false
}

func (r *Reader) comment(p int) {
	start := p + len("<!--")
	r.pos = r.through(p, start, "-->", "a comment")
	if r.OnComment != nil {
		text := bytes.TrimSuffix(r.src[start:r.pos], []byte("-->"))
		r.OnComment(start, start+len(text))
	}
}

// through returns the offset behind the next mark at or after from. Without
// one, the file ends inside what began at p.
func (r *Reader) through(p, from int, mark, what string) int {
	if from <= len(r.src) {
		if n := bytes.Index(r.src[from:], []byte(mark)); n >= 0 {
			return from + n + len(mark)
		}
	}
	r.problem(scene.PartialExport, p, min(len(r.src), p+9), "expected %s, found the end of the file inside %s that begins here", mark, what)
	return len(r.src)
}

func (r *Reader) cdata(p int) (Token, bool) {
	start := p + len("<![CDATA[")
	r.pos = r.through(p, start, "]]>", "a CDATA section")
	end := r.pos
	if bytes.HasSuffix(r.src[start:end], []byte("]]>")) {
		end -= 3
	}
	if len(r.open) == 0 {
		r.problem(scene.Syntax, p, start, "expected an element, found a CDATA section outside the root element")
		return Token{}, false
	}
	return Token{Kind: Text, Pos: start, End: end}, start < end
}

// Skip passes over the rest of the element whose start token was returned
// last, its end tag included, and returns the offset behind it.
func (r *Reader) Skip() int {
	depth := r.Depth()
	for {
		token := r.Next()
		if token.Kind == EOF || token.Kind == End && r.Depth() < depth {
			return token.End
		}
	}
}

// unclosed closes all elements at the end of the file.
func (r *Reader) unclosed() {
	var names []string
	for i := len(r.open) - 1; i >= 0 && len(names) < 3; i-- {
		e := r.open[i]
		names = append(names, fmt.Sprintf("</%.40s>", r.src[e.name:e.nameEnd]))
	}
	if len(r.open) > len(names) {
		names = append(names, "...")
	}
	end := len(r.src)
	r.problem(scene.PartialExport, end, end, "expected %s, found the end of the file; export it again", strings.Join(names, " "))
	r.pending, r.closeAt = len(r.open), end
}

func (r *Reader) endOfFile() {
	if !r.sawRoot {
		r.sawRoot = true
		r.problem(scene.Syntax, 0, min(len(r.src), 20), "expected an XML element, found none")
	}
}

func (r *Reader) problem(kind scene.ProblemKind, start, end int, message string, args ...any) {
	if kind == scene.PartialExport {
		// What ends early ends all that is open; that is said once.
		if r.cut {
			return
		}
		r.cut = true
	}
	if r.problems.Full() {
		r.problems.Count(1)
		return
	}
	message = strings.ToValidUTF8(fmt.Sprintf(message, args...), "\uFFFD")
	r.problems.Add(kind, r.Span(start, end), "%s", message)
}

func isSpace(c byte) bool { return c == ' ' || c == '\n' || c == '\t' || c == '\r' }

// local returns a name without its namespace prefix.
func local(name []byte) []byte { return name[bytes.IndexByte(name, ':')+1:] }
