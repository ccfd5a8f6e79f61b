package write

import (
	"bufio"
	"io"
	"strconv"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// quatDecimals is how many decimals a component of a quaternion, an axis or an
// angle in radians gets.
const quatDecimals = 8

// printer writes indented text through a buffer and keeps the first error.
type printer struct {
	w      *bufio.Writer
	indent string // one level
	depth  int
	num    []byte
	err    error
}

func newPrinter(w io.Writer, indent string) *printer {
	return &printer{w: bufio.NewWriterSize(w, 1<<16), indent: indent}
}

// close flushes and returns the first error.
func (p *printer) close() error {
	if err := p.w.Flush(); p.err == nil {
		p.err = err
	}
	return p.err
}

// text writes strings as they are.
func (p *printer) text(parts ...string) {
	for _, s := range parts {
		if _, err := p.w.WriteString(s); err != nil && p.err == nil {
			p.err = err
		}
	}
}

// line writes one indented line.
func (p *printer) line(parts ...string) {
	p.begin()
	p.text(parts...)
	p.text("\n")
}

// begin writes the indentation of a line.
func (p *printer) begin() {
	for range p.depth {
		p.text(p.indent)
	}
}

// number writes v with at most the given decimals and no needless zeros.
func (p *printer) number(v float64, decimals int) {
	p.num = appendNumber(p.num[:0], v, decimals)
	if _, err := p.w.Write(p.num); err != nil && p.err == nil {
		p.err = err
	}
}

// vector writes three numbers with a separator between them.
func (p *printer) vector(v r3.Vec, decimals int, sep string) {
	p.number(v.X, decimals)
	p.text(sep)
	p.number(v.Y, decimals)
	p.text(sep)
	p.number(v.Z, decimals)
}

// quaternion writes a quaternion, real part first.
func (p *printer) quaternion(q quat.Number, sep string) {
	p.number(q.Real, quatDecimals)
	p.text(sep)
	p.vector(r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}, quatDecimals, sep)
}

// appendNumber appends v with at most the given decimals, without trailing
// zeros and without a negative zero.
func appendNumber(dst []byte, v float64, decimals int) []byte {
	start := len(dst)
	dst = strconv.AppendFloat(dst, v, 'f', decimals, 64)
	if decimals > 0 {
		for dst[len(dst)-1] == '0' {
			dst = dst[:len(dst)-1]
		}
		if dst[len(dst)-1] == '.' {
			dst = dst[:len(dst)-1]
		}
	}
	if string(dst[start:]) == "-0" {
		dst = append(dst[:start], '0')
	}
	return dst
}

// number returns v as text, as printer.number writes it.
func number(v float64, decimals int) string { return string(appendNumber(nil, v, decimals)) }
