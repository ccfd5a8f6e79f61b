package cases

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"path"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

// Got is a note that came, as a case sees it.
type Got struct {
	File     string
	Line     int
	Check    string
	Message  string
	Severity note.Severity
}

// String writes the note as a line of the file want.
func (g Got) String() string {
	return fmt.Sprintf("%s:%d %s %q", g.File, g.Line, g.Check, g.Message)
}

// Studied is a case made ready to be judged any number of times.
type Studied struct {
	Case  *Case
	study *motion.Study
	cfg   *config.Config
}

// Study reads and studies the scene of a case.
func (c *Case) Study() (*Studied, error) {
	cfg := &config.Config{}
	if text, ok := c.Files[ConfigName]; ok {
		cfg = config.Parse(ConfigName, text, diagnostics.Schema())
	}
	open := func(from, name string) (string, []byte, error) {
		p := path.Join(path.Dir(from), name)
		text, ok := c.Files[p]
		if !ok {
			return p, nil, fmt.Errorf("the case has no file %s", p)
		}
		return p, text, nil
	}
	sc := diagnostics.Read(c.Scene, c.Files[c.Scene], cfg, open)
	study, fault := diagnostics.Judge{Config: cfg}.Study(sc)
	if fault != nil {
		return nil, fmt.Errorf("%s", fault.Message)
	}
	return &Studied{c, study, cfg}, nil
}

// Frames returns the first and the last display frame of the scene.
func (s *Studied) Frames() (first, last float64) { return s.study.Scene.First, s.study.Scene.Last }

// Notes judges the case with the configured settings, or with one setting of a
// check at another value.
func (s *Studied) Notes(ctx context.Context, changes ...Change) []Got {
	return s.notes(ctx, diagnostics.Selection{}, changes...)
}

// Own is Notes of the case's own check alone, which comes sooner.
func (s *Studied) Own(ctx context.Context, changes ...Change) []Got {
	return s.notes(ctx, diagnostics.Selection{Only: []string{s.Case.Check}}, changes...)
}

func (s *Studied) notes(ctx context.Context, only diagnostics.Selection, changes ...Change) []Got {
	cfg := *s.cfg
	cfg.Checks = maps.Clone(cfg.Checks)
	if cfg.Checks == nil {
		cfg.Checks = map[string]config.Check{}
	}
	for _, ch := range changes {
		k := cfg.Checks[ch.Check]
		k.Settings = maps.Clone(k.Settings)
		if k.Settings == nil {
			k.Settings = map[string]float64{}
		}
		k.Settings[ch.Setting] = ch.Value
		cfg.Checks[ch.Check] = k
	}
	return s.tell(diagnostics.Judge{Config: &cfg, Selection: only}.Notes(ctx, s.study))
}

// Judge gives all that the case is found to be, as configured.
func (s *Studied) Judge(ctx context.Context) *diagnostics.Result {
	return diagnostics.Judge{Config: s.cfg, Selection: diagnostics.Selection{}}.Notes(ctx, s.study)
}

// tell lists the notes of a result, and those on the configuration.
func (s *Studied) tell(r *diagnostics.Result) []Got {
	var list []Got
	for _, n := range r.Notes {
		f := s.study.Scene.Files[n.Span.File]
		list = append(list, got(f.Path, f.Text, &n))
	}
	if len(s.cfg.Text) > 0 {
		for _, n := range diagnostics.ConfigNotes(s.cfg, r.Uses) {
			list = append(list, got(ConfigName, s.cfg.Text, &n))
		}
	}
	return list
}

// Change is another value of one setting of a check.
type Change struct {
	Check, Setting string
	Value          float64
}

func got(file string, text []byte, n *note.Note) Got {
	at := min(int(n.Span.Start), len(text))
	return Got{File: file, Line: 1 + bytes.Count(text[:at], []byte("\n")), Check: n.Check, Message: n.Message, Severity: n.Severity}
}
