package config

import (
	"fmt"
	"slices"
	"strings"

	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Parse reads the text of a curvelint.toml. The configuration is never nil;
// what is wrong is in its Problems and does not count, all else does.
func Parse(path string, src []byte, schema Schema) *Config {
	r := &reader{config: &Config{Path: path, Text: src, Checks: map[string]Check{}}, schema: schema}
	root, problem := parseTree(src)
	if problem != nil {
		r.config.Problems = append(r.config.Problems, *problem)
	}
	r.fields(root, "", r.rootFields())
	slices.SortStableFunc(r.config.Problems, func(a, b Problem) int { return a.Span.Start - b.Span.Start })
	return r.config
}

// reader turns a tree into a configuration.
type reader struct {
	config *Config
	schema Schema
}

// field reads one known key of a table.
type field struct {
	name string
	read func(*entry)
}

func (r *reader) problem(s Span, format string, args ...any) {
	r.config.Problems = append(r.config.Problems, Problem{s, fmt.Sprintf(format, args...)})
}

// fields reads a table of known keys; where names it in messages.
func (r *reader) fields(t *value, where string, known []field) {
	for _, e := range t.keys {
		i := slices.IndexFunc(known, func(f field) bool { return f.name == e.name })
		if i >= 0 {
			known[i].read(e)
			continue
		}
		names := make([]string, len(known))
		for i := range known {
			names[i] = known[i].name
		}
		r.problem(e.span, "unknown key %q%s; %s", e.name, where, expected(e.name, names))
	}
}

// Keys are the keys and tables that a curvelint.toml may have.
func Keys() []string {
	r := &reader{config: &Config{}}
	var keys []string
	for _, f := range r.rootFields() {
		keys = append(keys, f.name)
	}
	return keys
}

func (r *reader) rootFields() []field {
	c := r.config
	return []field{
		{"fps", func(e *entry) { r.rate(e, &c.FPS) }},
		{"first_frame", func(e *entry) { c.HasFirstFrame = r.number(e, -maxFrame, maxFrame, "1001", &c.FirstFrame) }},
		{"frames", func(e *entry) { c.HasFrames = r.frames(e, &c.Frames) }},
		{"step", func(e *entry) { r.whole(e, 1, 2, "2", &c.Step) }},
		{"camera", func(e *entry) { r.text(e, &c.Camera); r.mention(e, CameraNamed) }},
		{"clip", func(e *entry) { r.text(e, &c.Clip) }},
		{"focus", func(e *entry) { r.text(e, &c.Focus); r.mention(e, GroupNamed) }},
		{"floor", func(e *entry) { c.HasFloor = r.number(e, -1e12, 1e12, "0.0", &c.Floor) }},
		{"handles", func(e *entry) { r.whole(e, 0, 100000, "8", &c.Handles) }},
		{"aspect", func(e *entry) { r.number(e, 0.1, 10, "1.85", &c.Aspect) }},
		{"lead", func(e *entry) { c.Lead = r.texts(e); r.mention(e, GroupNamed) }},
		{"loop", func(e *entry) { r.truth(e, &c.Loop) }},
		{"groups", r.groups},
		{"part", func(e *entry) { r.each(e, r.part) }},
		{"figure", func(e *entry) { r.each(e, r.figure) }},
		{"point", func(e *entry) { r.each(e, r.point) }},
		{"chain", func(e *entry) { r.each(e, r.chain) }},
		{"allow", func(e *entry) { r.each(e, r.allow) }},
		{"pass", func(e *entry) { r.each(e, r.pass) }},
		{"checks", r.checks},
	}
}

// each reads every table of a list of tables.
func (r *reader) each(e *entry, read func(t *value)) {
	if e.value.kind != listKind {
		r.problem(e.span, "write [[%s]] with two brackets: there may be several", e.name)
		return
	}
	for _, t := range e.value.list {
		if t.kind != tableKind {
			r.problem(t.span, "expected a table under [[%s]], found %s", e.name, t.kind)
			continue
		}
		read(t)
	}
}

// is reports whether a value is of a kind and says so if not.
func (r *reader) is(e *entry, k kind, example string) bool {
	if e.value.kind == k {
		return true
	}
	r.problem(e.value.span, "%s: expected %s such as %s, found %s", e.name, k, example, e.value.kind)
	return false
}

func (r *reader) text(e *entry, dst *string) bool {
	if !r.is(e, textKind, `"..."`) {
		return false
	}
	if strings.TrimSpace(e.value.text) == "" {
		r.problem(e.value.span, "%s is empty; fill it in or remove the line", e.name)
		return false
	}
	*dst = e.value.text
	return true
}

func (r *reader) truth(e *entry, dst *bool) {
	if r.is(e, boolKind, "true") {
		*dst = e.value.number != 0
	}
}

func (r *reader) number(e *entry, low, high float64, example string, dst *float64) bool {
	if !r.is(e, numberKind, example) {
		return false
	}
	if v := e.value.number; !(v >= low && v <= high) {
		r.problem(e.value.span, "%s: expected a number from %s to %s, found %s", e.name, words.Number(low), words.Number(high), words.Number(v))
		return false
	}
	*dst = e.value.number
	return true
}

func (r *reader) whole(e *entry, low, high int, example string, dst *int) {
	var v float64
	if !r.number(e, float64(low), float64(high), example, &v) {
		return
	}
	if !e.value.whole {
		r.problem(e.value.span, "%s: expected a whole number, found %s", e.name, words.Number(v))
		return
	}
	*dst = int(v)
}

// rateTolerance snaps a rate written with two decimals, as 23.98, to the rate
// that is meant.
const rateTolerance = 2e-4

func (r *reader) rate(e *entry, dst *float64) {
	var v float64
	if r.number(e, 1, 1000, "24", &v) {
		*dst = scene.SnapRate(v, rateTolerance)
	}
}

func (r *reader) frames(e *entry, dst *Frames) bool {
	if !r.is(e, textKind, `"40-52"`) {
		return false
	}
	f, err := ParseFrames(e.value.text)
	if err != nil {
		r.problem(e.value.span, "%s: %s", e.name, err)
		return false
	}
	*dst = f
	return true
}

// texts reads a text or a list of texts.
func (r *reader) texts(e *entry) []string {
	list := []*value{e.value}
	if e.value.kind == listKind {
		list = e.value.list
	}
	if len(list) == 0 {
		r.problem(e.value.span, "%s is an empty list; fill it in or remove the line", e.name)
	}
	var texts []string
	for _, v := range list {
		var s string
		if r.text(&entry{e.name, e.span, v}, &s) {
			texts = append(texts, s)
		}
	}
	return texts
}

// globs reads a pattern or a list of patterns.
func (r *reader) globs(e *entry) Globs {
	list := []*value{e.value}
	if e.value.kind == listKind {
		list = e.value.list
	}
	if len(list) == 0 {
		r.problem(e.value.span, "%s is an empty list; name at least one pattern", e.name)
	}
	var globs Globs
	for _, v := range list {
		var s string
		if !r.text(&entry{e.name, e.span, v}, &s) {
			continue
		}
		g, err := NewGlob(s)
		if err != nil {
			r.problem(v.span, "%s: %s", e.name, err)
			continue
		}
		globs = append(globs, g)
	}
	return globs
}

// parts reads patterns of parts that a scene should have.
func (r *reader) parts(e *entry) Globs {
	r.mention(e, PartsNamed)
	return r.globs(e)
}

// expected ends a message about an unknown word: with the known one that is
// most like it, else with all.
func expected(word string, known []string) string {
	if best := nearest(word, known); best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	if len(known) == 0 {
		return "none is known here"
	}
	return "expected one of " + strings.Join(known, ", ")
}

// ExpectedCheck ends a message about an unknown check: with the known one that is
// meant, else with where they are listed, for they are too many for a message.
func ExpectedCheck(word string, known []string) string {
	if best := nearest(word, known); best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	return "curvelint explain lists the checks"
}

// nearest returns the known word that is most like word, or the only one that
// begins with it; "" when there is none.
func nearest(word string, known []string) string {
	best, least := "", 1+min(2, (len(word)+1)/2)
	for _, k := range known {
		if d := distance(word, k); d < least {
			best, least = k, d
		}
	}
	if best != "" || len(word) < leastBeginning {
		return best
	}
	for _, k := range known {
		if strings.HasPrefix(k, word) {
			if best != "" {
				return ""
			}
			best = k
		}
	}
	return best
}

// leastBeginning is how many letters say which word is meant.
const leastBeginning = 3

// distance counts the letters to insert, remove or replace to turn a into b
// (Levenshtein), hyphens and underscores being alike.
func distance(a, b string) int {
	a, b = strings.ReplaceAll(a, "_", "-"), strings.ReplaceAll(b, "_", "-")
	if len(a) > 64 {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
