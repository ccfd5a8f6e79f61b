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
var reasons = map[string]string{
	"as fast as the `strconv` loop": "in files of a few hundred frames the names, types and places of the parts cost as much as the numbers. " +
		"Next: read attributes that many parts have by one template.",
	"half of the short-decimal loop": "every number also gets its place, its column and its checks, which the loop does without; " +
		"in small files the parts come on top. Next: read several columns in one pass over the line.",
	"gain of the second core": "the file is too small, or finding the blocks to share out takes as long as reading them. " +
		"Next: find blocks while the first are read.",
	"ten times the npm loaders": "base64 is decoded by the machine code of Node too. Next: decode straight into the columns.",
	"size of a scene":           "values are kept at 8 bytes each and a place at 4, in a format that writes short numbers. Next: keep regular places as a rule.",
	"study and checks within twice the reading": "a BVH holds the same motion in a third of the bytes of USD and is read that much sooner; the study is the same. " +
		"Next: checks that share what they measure on a track.",
	"check within three times the file": "the text and the growing columns are in memory together while the file is read. Next: size the columns from the first block.",
	"start to initialized in 20 ms":     "starting a process waits for a processor here. Next: look at what is set up before the first message.",
	"edit to notes": "the checks that look at whole figures run anew although one track changed; the texts of 100 MB are also copied once. " +
		"Next: keep the findings of each track with the track.",
	"hover in 5 ms":   "the first question after an edit waits for its study. Next: answer from the study before while the new one is made.",
	"symbols in 5 ms": "the answer lists every move and hold of a bake that never rests, half a megabyte. Next: list those of the parts that lead only.",
	"hints in 5 ms":   "the lines of a wide BVH hold hundreds of numbers. Next: look for one key of a line only.",
	"server with the text open within 5 times the text": "what earlier versions took is given back when the session has been idle for three seconds. Next: share the unchanged blocks of the texts.",
	"not slower than a server for JSON": "theirs looks at the syntax, ours reads the motion, studies and checks it, which is most of the time. " +
		"Next: checks that share what they measure on a track.",
	"all cores wanted":         "the last files of a folder are read by one core when the others have no more. Next: begin with the largest files.",
	"a folder under 1 GiB":     "files read at the same time are bounded in bytes, their studies are not. Next: count those too.",
	"--watch keeps its memory": "the runtime keeps memory for a while after many files at once. Next: give it back when nothing changes.",
	"interrupt within 100 ms":  "files under way are waited for half that long, then the notes so far are written. Next: write them while waiting.",
	"no faster than linear":    "see which file of source grows with `go run ./cmd/lab/bench -growth`.",
}

func reason(budget string) string {
	if why := reasons[budget]; why != "" {
		return why
	}
	return "no reason known yet; profile it"
}
