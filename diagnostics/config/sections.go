package config

import (
	"curvelint/diagnostics/note"
)

// groups reads [groups]: names and their patterns.
func (r *reader) groups(e *entry) {
	if !r.isTable(e) {
		return
	}
	for _, g := range e.value.keys {
		if globs := r.globs(g); len(globs) > 0 {
			r.config.Groups = append(r.config.Groups, Group{g.name, globs})
		}
	}
}

func (r *reader) isTable(e *entry) bool {
	if e.value.kind != tableKind {
		r.problem(e.span, "write [%s] with single brackets: there is only one", e.name)
		return false
	}
	return true
}

// part reads one [[part]].
func (r *reader) part(t *value) {
	var p Part
	said := false
	r.fields(t, " in [[part]]", []field{
		{"match", func(e *entry) { p.Match = r.globs(e) }},
		{"kind", func(e *entry) { said = true; r.kind(e, &p.Kind) }},
		{"carrier", func(e *entry) { said = true; r.text(e, &p.Carrier) }},
	})
	switch {
	case t.get("match") == nil:
		r.problem(t.span, `[[part]] has no match; add one such as match = "/Shot/winch/**"`)
	case !said:
		r.problem(t.span, `[[part]] says nothing of its parts; add kind = "mechanical" or a carrier`)
	case len(p.Match) > 0:
		r.config.Parts = append(r.config.Parts, p)
	}
}

func (r *reader) kind(e *entry, dst *Kind) {
	var s string
	if !r.text(e, &s) {
		return
	}
	switch s {
	case "living":
		*dst = Living
	case "mechanical":
		*dst = Mechanical
	default:
		r.problem(e.value.span, "unknown kind %q; %s", s, expected(s, []string{"living", "mechanical"}))
	}
}

// chain reads one [[chain]].
func (r *reader) chain(t *value) {
	var c Chain
	r.fields(t, " in [[chain]]", []field{
		{"match", func(e *entry) { c.Match = r.globs(e) }},
		{"name", func(e *entry) { r.text(e, &c.Name) }},
	})
	if t.get("match") == nil {
		r.problem(t.span, `[[chain]] has no match; add one such as match = ["*tail*"]`)
	}
	if len(c.Match) > 0 {
		if c.Name == "" {
			c.Name = c.Match.String()
		}
		r.config.Chains = append(r.config.Chains, c)
	}
}

// allow reads one [[allow]]. One that is not understood allows nothing.
func (r *reader) allow(t *value) {
	a := Allow{Span: t.span}
	before := len(r.config.Problems)
	r.fields(t, " in [[allow]]", []field{
		{"check", func(e *entry) { r.checkID(e, &a.Check) }},
		{"match", func(e *entry) { a.Match = r.globs(e) }},
		{"file", func(e *entry) { a.File = r.globs(e) }},
		{"frames", func(e *entry) { a.HasFrames = r.frames(e, &a.Frames) }},
		{"stroke", func(e *entry) { a.HasStroke = r.frames(e, &a.Stroke) }},
		{"why", func(e *entry) { r.text(e, &a.Why) }},
	})
	for _, need := range [...]struct{ key, example string }{
		{"check", `check = "frozen-hold"`}, {"match", `match = "/Tug/**"`}, {"why", `why = "freeze frame for the gag"`},
	} {
		if t.get(need.key) == nil {
			r.problem(t.span, "[[allow]] has no %s; add one such as %s", need.key, need.example)
		}
	}
	if a.HasStroke && !a.HasFrames {
		r.problem(t.get("stroke").span, "stroke needs frames, which follow it; add frames or remove stroke")
	}
	if len(r.config.Problems) == before {
		r.config.Allows = append(r.config.Allows, a)
	}
}

func (r *reader) checkID(e *entry, dst *string) {
	if r.text(e, dst) && r.schema.check(*dst) == nil {
		r.problem(e.value.span, "unknown check %q; %s", *dst, expected(*dst, r.schema.ids()))
	}
}

// pass reads one [[pass]].
func (r *reader) pass(t *value) {
	var p Pass
	r.fields(t, " in [[pass]]", []field{
		{"name", func(e *entry) { r.text(e, &p.Name) }},
		{"before", func(e *entry) { r.text(e, &p.Before) }},
	})
	if p.Name == "" || p.Before == "" {
		if t.get("name") == nil || t.get("before") == nil {
			r.problem(t.span, `[[pass]] needs both, such as name = "*_polish.usda" and before = "*_spline.usda"`)
		}
		return
	}
	if err := p.compile(); err != nil {
		r.problem(t.get("before").value.span, "%s", err)
		return
	}
	r.config.Passes = append(r.config.Passes, p)
}

// checks reads [checks.*].
func (r *reader) checks(e *entry) {
	if !r.isTable(e) {
		return
	}
	for _, c := range e.value.keys {
		schema := r.schema.check(c.name)
		if schema == nil {
			r.problem(c.span, "unknown check %q; %s", c.name, expected(c.name, r.schema.ids()))
			continue
		}
		if c.value.kind != tableKind {
			r.problem(c.span, `write [checks.%s] on a line of its own, then severity = "information" or a setting below it`, c.name)
			continue
		}
		r.check(c, schema)
	}
}

func (r *reader) check(e *entry, schema *CheckSchema) {
	c := Check{Settings: map[string]float64{}}
	known := []field{{"severity", func(e *entry) { r.severity(e, &c) }}}
	for i := range schema.Settings {
		s := &schema.Settings[i]
		known = append(known, field{s.Name, func(e *entry) { r.setting(e, s, c.Settings) }})
	}
	r.fields(e.value, " in [checks."+e.name+"]", known)
	r.config.Checks[e.name] = c
}

func (r *reader) severity(e *entry, c *Check) {
	var s string
	if !r.text(e, &s) {
		return
	}
	severity, ok := note.ParseSeverity(s)
	if !ok {
		r.problem(e.value.span, "unknown severity %q; %s", s,
			expected(s, []string{"off", "hint", "information", "warning", "error"}))
		return
	}
	c.Severity, c.HasSeverity = severity, true
}

func (r *reader) setting(e *entry, s *SettingSchema, dst map[string]float64) {
	if s.isSwitch() && e.value.kind == boolKind {
		dst[s.Name] = e.value.number
		return
	}
	unit := s.Unit
	if unit != "" {
		unit = " " + unit
	}
	if e.value.kind != numberKind {
		r.problem(e.value.span, "%s: expected a number such as %g%s, found %s", e.name, s.Default, unit, e.value.kind)
		return
	}
	if v := e.value.number; !(v >= s.Min && v <= s.Max) {
		r.problem(e.value.span, "%s: expected a number from %g to %g%s, found %g; the default is %g",
			e.name, s.Min, s.Max, unit, v, s.Default)
		return
	}
	dst[s.Name] = e.value.number
}
