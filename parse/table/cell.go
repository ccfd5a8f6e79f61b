package table

import (
	"bytes"
	"strings"

	"curvelint/parse/text"
)

// cell is one field of a row.
type cell struct {
	start, end int // its content, without quotes and the blanks around it
	next       int // the separator or line end behind it, or the end of the text
	escaped    bool
	broken     bool // a quote that is not closed, or text behind a closing one
}

// cellAt returns the cell that begins at i.
func cellAt(src []byte, i int, separator byte) cell {
	for i < len(src) && isBlank(src[i], separator) {
		i++
	}
	if i < len(src) && src[i] == '"' {
		if c, ok := quotedCell(src, i, separator); ok {
			return c
		}
	}
	c := cell{start: i, next: plainEnd(src, i, separator)}
	c.broken = i < c.next && src[i] == '"'
	c.end = c.next
	for c.end > c.start && isBlank(src[c.end-1], separator) {
		c.end--
	}
	return c
}

// quotedCell reads a cell whose opening quote is at i; ok is false when the
// quote is never closed.
func quotedCell(src []byte, i int, separator byte) (c cell, ok bool) {
	c.start = i + 1
	for j := c.start; ; j += 2 {
		n := bytes.IndexByte(src[j:], '"')
		if n < 0 {
			return c, false
		}
		j += n
		if j+1 == len(src) || src[j+1] != '"' {
			c.end = j
			break
		}
		c.escaped = true
	}
	c.next = plainEnd(src, c.end+1, separator)
	if behind := bytes.TrimRight(src[c.end+1:c.next], " \t"); len(behind) > 0 {
		c.start, c.end, c.broken = i, c.end+1+len(behind), true
	}
	return c, true
}

// plainEnd returns the offset of the separator or line end at or behind i.
func plainEnd(src []byte, i int, separator byte) int {
	for i < len(src) && src[i] != separator && !isLineEnd(src[i]) {
		i++
	}
	return i
}

func isLineEnd(c byte) bool { return c == '\n' || c == '\r' }

// isBlank reports whether c is white space inside a line that separates
// nothing.
func isBlank(c, separator byte) bool { return (c == ' ' || c == '\t') && c != separator }

// text returns the content of a cell.
func (c cell) text(src []byte) string {
	s := string(src[c.start:c.end])
	if c.escaped {
		s = strings.ReplaceAll(s, `""`, `"`)
	}
	return strings.TrimSpace(s)
}

// rowEnd returns the offset of the line end of the row that goes on at i; a
// line end inside quotes does not count.
func rowEnd(src []byte, i int, separator byte) int {
	for {
		i = cellAt(src, i, separator).next
		if i == len(src) || isLineEnd(src[i]) {
			return i
		}
		i++
	}
}

// emptyRow reports whether nothing but separators, quotes and blanks stands in
// src[i:end].
func emptyRow(line []byte, separator byte) bool {
	for _, c := range line {
		if c != separator && c != ' ' && c != '\t' && c != '"' {
			return false
		}
	}
	return true
}

// quote words what was found for a message.
func quote(b []byte) string {
	if len(b) == 0 {
		return "nothing"
	}
	return text.Quote(b)
}
