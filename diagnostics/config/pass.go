package config

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
)

// Pass says which file is the earlier pass of which. Name is the pattern of a
// file's name; the text that each * of it stands for goes into the * of Before,
// the name of the earlier file, seen from the folder of the later one.
type Pass struct {
	Name, Before string

	name *regexp.Regexp
}

// compile prepares the patterns.
func (p *Pass) compile() error {
	if have, need := strings.Count(p.Name, "*"), strings.Count(p.Before, "*"); need > have {
		return fmt.Errorf("before has %d of *, name only %d; each * of before is filled from one of name", need, have)
	}
	if strings.ContainsAny(p.Name, `/\`) {
		return fmt.Errorf("name is the pattern of a file's name, without folders; %q has some", p.Name)
	}
	var form strings.Builder
	form.WriteString("^")
	for i, text := range strings.Split(p.Name, "*") {
		if i > 0 {
			form.WriteString("(.*)")
		}
		form.WriteString(regexp.QuoteMeta(text))
	}
	form.WriteString("$")
	var err error
	p.name, err = regexp.Compile(form.String())
	return err
}

// Before returns the path of the earlier pass of the file at path, by the first
// entry that fits its name.
func (c *Config) Before(path string) (string, bool) {
	dir, name := filepath.Split(path)
	for i := range c.Passes {
		p := &c.Passes[i]
		m := p.name.FindStringSubmatch(name)
		if m == nil {
			continue
		}
		var before string
		for i, text := range strings.Split(p.Before, "*") {
			if i > 0 {
				before += m[i]
			}
			before += text
		}
		if before = filepath.Join(dir, filepath.FromSlash(before)); before != filepath.Clean(path) {
			return before, true
		}
	}
	return "", false
}
