package main

import (
	"bytes"
	"fmt"
	"strings"
)

// report collects what is printed.
type report struct {
	buf  bytes.Buffer
	held []held
}

// held is a budget and whether it is met.
type held struct {
	budget string // its key in reasons
	what   string
	met    bool
}

func (r *report) bytes() []byte { return r.buf.Bytes() }

// text adds a paragraph.
func (r *report) text(format string, args ...any) { fmt.Fprintf(&r.buf, format+"\n", args...) }

// table adds a table; the first column is of words, the others of figures.
func (r *report) table(header []string, rows [][]string) {
	line := func(cells []string) { r.text("| %s |", strings.Join(cells, " | ")) }
	line(header)
	rule := []string{"---"}
	for range header[1:] {
		rule = append(rule, "---:")
	}
	line(rule)
	for _, row := range rows {
		line(row)
	}
	r.text("")
}

// hold notes whether a budget is met and returns what stands beside it.
func (r *report) hold(budget, what string, met bool) string {
	r.held = append(r.held, held{budget, what, met})
	if met {
		return "met"
	}
	return "**missed**"
}

// verdict ends the report: how many budgets are met, and for the others why not
// and what comes next.
func (r *report) verdict() {
	if len(r.held) == 0 {
		return
	}
	met := 0
	missed := map[string][]string{}
	var order []string
	for _, h := range r.held {
		if h.met {
			met++
			continue
		}
		if missed[h.budget] == nil {
			order = append(order, h.budget)
		}
		missed[h.budget] = append(missed[h.budget], h.what)
	}
	r.text("## Budgets\n\n%d of %d are met.", met, len(r.held))
	for _, budget := range order {
		r.text("\n- **%s** (%s): %s", budget, strings.Join(missed[budget], "; "), reason(budget))
	}
}

// reasons says, for each budget, why it is missed where it is, and the next
// step.
var reasons = map[string]string{}

func reason(budget string) string {
	if why := reasons[budget]; why != "" {
		return why
	}
	return "no reason known yet; profile it"
}
