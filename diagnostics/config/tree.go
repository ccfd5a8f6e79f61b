package config

import (
	"bytes"
	"errors"
	"math"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// kind says what a value in a TOML document is.
type kind uint8

const (
	textKind kind = iota
	numberKind
	boolKind
	listKind
	tableKind
	dateKind
)

// String names the kind for messages.
func (k kind) String() string {
	return [...]string{"a text", "a number", "true or false", "a list", "a table", "a date"}[k]
}

// value is one value of a TOML document and where it stands.
type value struct {
	kind   kind
	span   Span // where it is written; a table's is its header or its key
	text   string
	number float64
	whole  bool // the number was written as an integer
	list   []*value
	keys   []*entry // of a table, in order
}

// entry is one key of a table.
type entry struct {
	name  string
	span  Span // of the key
	value *value
}

// get returns the entry with the given name, or nil.
func (v *value) get(name string) *entry {
	for _, e := range v.keys {
		if e.name == name {
			return e
		}
	}
	return nil
}

// parseTree reads a TOML document. When it breaks the rules of TOML, the tree
// holds what stands before that place.
func parseTree(src []byte) (*value, *Problem) {
	problem := checkSyntax(src)
	if problem != nil {
		src = src[:lineStart(src, problem.Span.Start)]
	}
	b := builder{root: &value{kind: tableKind}}
	b.parser.Reset(src)
	b.table = b.root
	for b.parser.NextExpression() {
		b.expression(b.parser.Expression())
	}
	return b.root, problem
}

// checkSyntax returns the first place where src is no TOML, or nil.
func checkSyntax(src []byte) *Problem {
	var ignored map[string]any
	err := toml.Unmarshal(src, &ignored)
	if err == nil {
		return nil
	}
	p := &Problem{Message: strings.TrimPrefix(err.Error(), "toml: ")}
	var at *toml.DecodeError
	if errors.As(err, &at) {
		row, column := at.Position()
		p.Span = tokenAt(src, row, column)
	}
	return p
}

// tokenAt returns the span from a 1-based row and column to the end of what
// stands there, or of what stands before when nothing does.
func tokenAt(src []byte, row, column int) Span {
	start := 0
	for ; row > 1; row-- {
		n := bytes.IndexByte(src[start:], '\n')
		if n < 0 {
			break
		}
		start += n + 1
	}
	start = min(start+max(column-1, 0), len(src))
	end := start
	for end < len(src) && src[end] > ' ' {
		end++
	}
	if end == start {
		for end > 0 && src[end-1] <= ' ' {
			end--
		}
		start = lineStart(src, end)
		start += len(src[start:end]) - len(bytes.TrimLeft(src[start:end], " \t"))
	}
	return Span{start, end}
}

func lineStart(src []byte, at int) int {
	return bytes.LastIndexByte(src[:min(at, len(src))], '\n') + 1
}

// builder makes a tree of the expressions of a document.
type builder struct {
	parser unstable.Parser
	root   *value
	table  *value // the one that key = value lines go into
}

func (b *builder) expression(n *unstable.Node) {
	switch n.Kind {
	case unstable.KeyValue:
		b.keyValue(b.table, n)
	case unstable.Table:
		b.table = b.walk(b.root, n.Key(), false)
	case unstable.ArrayTable:
		b.table = b.walk(b.root, n.Key(), true)
	}
}

// walk returns the table that a dotted key names, seen from table t; its last
// name is a new element of a list when list is set.
func (b *builder) walk(t *value, key unstable.Iterator, list bool) *value {
	for key.Next() {
		n := key.Node()
		e := t.get(string(n.Data))
		if e == nil {
			e = &entry{name: string(n.Data), span: span(n)}
			e.value = &value{kind: tableKind, span: e.span}
			if list && key.IsLast() {
				e.value.kind = listKind
			}
			t.keys = append(t.keys, e)
		}
		t = e.value
		if t.kind == listKind {
			if list && key.IsLast() {
				t.list = append(t.list, &value{kind: tableKind, span: span(n)})
			}
			if len(t.list) == 0 {
				return &value{kind: tableKind}
			}
			t = t.list[len(t.list)-1]
		}
	}
	return t
}

// keyValue adds one key = value to a table.
func (b *builder) keyValue(t *value, n *unstable.Node) {
	key := n.Key()
	for key.Next() {
		k := key.Node()
		e := t.get(string(k.Data))
		if e == nil {
			e = &entry{name: string(k.Data), span: span(k), value: &value{kind: tableKind, span: span(k)}}
			t.keys = append(t.keys, e)
		}
		if key.IsLast() {
			e.value = b.value(n.Value(), e.span)
		}
		t = e.value
	}
}

// value reads one value; key is the span of its key, for values whose own
// place is not recorded.
func (b *builder) value(n *unstable.Node, key Span) *value {
	v := &value{span: span(n)}
	if v.span.End <= v.span.Start {
		v.span = key
	}
	switch n.Kind {
	case unstable.String:
		v.kind, v.text = textKind, string(n.Data)
	case unstable.Bool:
		v.kind = boolKind
		if len(n.Data) > 0 && n.Data[0] == 't' {
			v.number = 1
		}
	case unstable.Integer, unstable.Float:
		v.kind = numberKind
		v.number, v.whole = number(string(n.Data), n.Kind == unstable.Integer)
	case unstable.Array:
		v.kind = listKind
		for it := n.Children(); it.Next(); {
			if it.Node().Kind != unstable.Comment {
				v.list = append(v.list, b.value(it.Node(), key))
			}
		}
	case unstable.InlineTable:
		v.kind, v.span = tableKind, key
		for it := n.Children(); it.Next(); {
			if it.Node().Kind == unstable.KeyValue {
				b.keyValue(v, it.Node())
			}
		}
	default:
		v.kind = dateKind
	}
	return v
}

// number reads a TOML number, NaN if it is none.
func number(s string, whole bool) (float64, bool) {
	if whole {
		if i, err := strconv.ParseInt(s, 0, 64); err == nil {
			return float64(i), true
		}
	}
	if f, err := strconv.ParseFloat(strings.ReplaceAll(s, "_", ""), 64); err == nil {
		return f, false
	}
	return math.NaN(), false
}

func span(n *unstable.Node) Span {
	start := int(n.Raw.Offset)
	return Span{start, start + int(n.Raw.Length)}
}
