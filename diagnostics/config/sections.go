package config

import (
	"slices"

	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

// groups reads [groups]: names and their patterns.
func (r *reader) groups(e *entry) {
	if !r.isTable(e) {
		return
	}
	for _, g := range e.value.keys {
		if globs := r.parts(g); len(globs) > 0 {
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
		{"match", func(e *entry) { p.Match = r.parts(e) }},
		{"kind", func(e *entry) { said = true; r.kind(e, &p.Kind) }},
		{"carrier", func(e *entry) { said = true; r.text(e, &p.Carrier); r.mention(e, PartNamed) }},
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

// figure reads one [[figure]].
func (r *reader) figure(t *value) {
	var f Figure
	r.fields(t, " in [[figure]]", []field{{"match", func(e *entry) { f.Match = r.parts(e) }}})
	if t.get("match") == nil {
		r.problem(t.span, `[[figure]] has no match; add one such as match = "/Tug"`)
	}
	if len(f.Match) > 0 {
		r.config.Figures = append(r.config.Figures, f)
	}
}

// point reads one [[point]].
func (r *reader) point(t *value) {
	var p Point
	r.fields(t, " in [[point]]", []field{
		{"match", func(e *entry) { p.Match = r.parts(e) }},
		{"name", func(e *entry) { r.text(e, &p.Name) }},
		{"role", func(e *entry) { r.role(e, &p.Role) }},
		{"offset", func(e *entry) { r.vector(e, &p.Offset) }},
	})
	if t.get("match") == nil {
		r.problem(t.span, `[[point]] has no match; add one such as match = "*hand_tip_l"`)
	}
	if len(p.Match) > 0 {
		r.config.Points = append(r.config.Points, p)
	}
}

func (r *reader) role(e *entry, dst *string) {
	var s string
	switch {
	case !r.text(e, &s):
	case slices.Contains(PointRoles, s):
		*dst = s
	default:
		r.problem(e.value.span, "unknown role %q; %s", s, expected(s, PointRoles))
	}
}

// vector reads three numbers.
func (r *reader) vector(e *entry, dst *[3]float64) {
	const far = 1e12
	if e.value.kind != listKind || len(e.value.list) != 3 {
		r.problem(e.value.span, "%s: expected three numbers such as [0, 4, 0]", e.name)
		return
	}
	var v [3]float64
	for i, n := range e.value.list {
		if !r.number(&entry{e.name, e.span, n}, -far, far, "4.0", &v[i]) {
			return
		}
	}
	*dst = v
}

// chain reads one [[chain]].
func (r *reader) chain(t *value) {
	var c Chain
	r.fields(t, " in [[chain]]", []field{
		{"match", func(e *entry) { c.Match = r.parts(e) }},
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
		r.problem(e.value.span, "unknown check %q; %s", *dst, ExpectedCheck(*dst, r.schema.ids()))
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
			r.problem(c.span, "unknown check %q; %s", c.name, ExpectedCheck(c.name, r.schema.ids()))
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
		r.problem(e.value.span, "%s: expected a number such as %s%s, found %s", e.name, words.Number(s.Default), unit, e.value.kind)
		return
	}
	if v := e.value.number; !(v >= s.Min && v <= s.Max) {
		r.problem(e.value.span, "%s: expected a number from %s to %s%s, found %s; the default is %s",
			e.name, words.Number(s.Min), words.Number(s.Max), unit, words.Number(v), words.Number(s.Default))
		return
	}
	dst[s.Name] = e.value.number
}
