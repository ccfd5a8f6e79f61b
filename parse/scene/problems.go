package scene

import "fmt"

// Problems collects what a parser finds wrong with a file and keeps at most
// MaxProblems of it. The zero value is ready for use.
type Problems struct {
	list []Problem
	more int // how many were not kept
	told map[string]bool
}

// Add notes a problem at a span; message is formatted as by fmt.Sprintf.
func (p *Problems) Add(kind ProblemKind, span Span, message string, args ...any) {
	if p.Full() {
		p.more++
		return
	}
	if len(args) > 0 {
		message = fmt.Sprintf(message, args...)
	}
	p.list = append(p.list, Problem{Kind: kind, Span: span, Message: message})
}

// Once adds a problem unless one was added once with the same key.
func (p *Problems) Once(kind ProblemKind, span Span, key, message string, args ...any) {
	if p.told[key] {
		return
	}
	if p.told == nil {
		p.told = make(map[string]bool)
	}
	p.told[key] = true
	p.Add(kind, span, message, args...)
}

// Full reports whether further problems would only be counted.
func (p *Problems) Full() bool { return len(p.list) >= MaxProblems }

// Count adds n problems that are not kept.
func (p *Problems) Count(n int) { p.more += n }

// List returns the problems kept, in the order in which they were added. When
// there were more, the last one says how many.
func (p *Problems) List() []Problem {
	if p.more == 0 || len(p.list) == 0 {
		return p.list
	}
	list := append([]Problem(nil), p.list...)
	what := "problems"
	if p.more == 1 {
		what = "problem"
	}
	list[len(list)-1].Message += fmt.Sprintf(" (and %d more %s in this file)", p.more, what)
	return list
}

// Append adds the problems of q, as if they had been added one by one.
func (p *Problems) Append(q *Problems) {
	for _, problem := range q.list {
		p.Add(problem.Kind, problem.Span, "%s", problem.Message)
	}
	p.more += q.more
}
