package config

// Mention is a place where a configuration names something that a scene should
// have.
type Mention struct {
	Span Span
	What What
	// Text is the name as written and Match its pattern, for those that are
	// patterns.
	Text  string
	Match Globs
}

// What says what a mention names.
type What uint8

// The things that are named.
const (
	PartsNamed  What = iota // parts, by a pattern
	PartNamed               // one part, by its path: a carrier
	CameraNamed             // a camera, by its path
	GroupNamed              // a group: the focus, a leader
)

// mention notes the texts of a value, one by one.
func (r *reader) mention(e *entry, what What) {
	list := []*value{e.value}
	if e.value.kind == listKind {
		list = e.value.list
	}
	for _, v := range list {
		if v.kind != textKind || v.text == "" {
			continue
		}
		m := Mention{Span: v.span, What: what, Text: v.text}
		if what == PartsNamed {
			g, err := NewGlob(v.text)
			if err != nil {
				continue // said already
			}
			m.Match = Globs{g}
		}
		r.config.Mentions = append(r.config.Mentions, m)
	}
}

// Suggest ends a message about a name that is unknown in a scene: with the
// known one that is most like it, else with all.
func Suggest(name string, known []string) string { return expected(name, known) }
