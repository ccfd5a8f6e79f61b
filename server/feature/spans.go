package feature

import "curvelint/parse/scene"

// whole returns the first of two spans that holds something.
func whole(a, b scene.Span) scene.Span {
	if a.Empty() || a.File != b.File {
		return b
	}
	return a
}

// inner returns the first span if it lies inside the second, else the second.
func inner(a, b scene.Span) scene.Span {
	if a.Empty() || a.File != b.File {
		return b
	}
	return a
}
