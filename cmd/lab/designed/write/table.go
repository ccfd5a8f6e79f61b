package write

import (
	"io"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// Table writes a take as comma-separated text (RFC 4180), one line a frame:
// part.channel columns for every part that stands or turns away from its
// parent, with rotations in the order Z, Y, X. A camera's lens is left out.
func Table(w io.Writer, t *designed.Take) error { return table(w, t, ",") }

// TabTable is Table with tabs between the columns.
func TabTable(w io.Writer, t *designed.Take) error { return table(w, t, "\t") }

func table(w io.Writer, t *designed.Take, sep string) error {
	p := newPrinter(w, "")
	cells := tableCells(t)
	p.line("# rotation_order = ", designed.OrderZYX.String())
	p.text("frame")
	for _, c := range cells {
		p.text(sep, cellText(c.name, sep))
	}
	p.text("\n")
	for f := range t.N {
		p.text(strconv.Itoa(t.Frame(f)))
		for _, c := range cells {
			p.text(sep)
			p.number(c.at(f), c.decimals)
		}
		p.text("\n")
	}
	return p.close()
}

// tableCell is one column of a table.
type tableCell struct {
	name     string
	decimals int
	at       func(f int) float64
}

// cellText quotes a cell where RFC 4180 wants it.
func cellText(s, sep string) string {
	if strings.ContainsAny(s, "\"\r\n"+sep) {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return s
}

func tableCells(t *designed.Take) []tableCell {
	var cells []tableCell
	paths := tablePaths(t.Shot)
	for i := range t.Shot.Parts {
		cells = append(cells, partCells(t, i, paths[i])...)
	}
	return cells
}

// tablePaths returns each part's names from the root down, a slash between.
func tablePaths(s *designed.Shot) []string {
	out := make([]string, len(s.Parts))
	for i := range s.Parts {
		out[i] = strings.ReplaceAll(s.Parts[i].Name, "/", "_")
		if up := s.Parts[i].Parent; up >= 0 {
			out[i] = out[up] + "/" + out[i]
		}
	}
	return out
}

func partCells(t *designed.Take, i int, path string) []tableCell {
	row := &t.Rows[i]
	if row.Value != nil {
		return []tableCell{{path, 4, func(f int) float64 { return row.Value[f] }}}
	}
	var cells []tableCell
	three := func(kind string, decimals int, at func(f, c int) float64) {
		for c, axis := range [...]string{"x", "y", "z"} {
			cells = append(cells, tableCell{path + "." + kind + axis, decimals, func(f int) float64 { return at(f, c) }})
		}
	}
	if row.Moves || row.Move[0] != (r3.Vec{}) {
		three("t", t.Decimals(), func(f, c int) float64 { return component(row.Move[f], c) })
	}
	if angles := t.Angles(i, designed.OrderZYX, false); row.Turns || angles[0] != [3]float64{} {
		three("r", t.AngleDecimals(), func(f, c int) float64 { return angles[f][c] })
	}
	if row.Size != nil {
		three("s", 5, func(f, c int) float64 { return component(row.Size[f], c) })
	}
	return cells
}
