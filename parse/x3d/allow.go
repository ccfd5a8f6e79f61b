package x3d

import (
	"cmp"
	"slices"

	"curvelint/parse/scene"
)

// comment takes in a comment of the file, the bytes [start, end) between its
// marks: it may hold an allowance.
func (d *document) comment(start, end int) {
	if start < d.commented {
		return // the reader went back
	}
	d.commented = end
	a, found, err := scene.FindAllow(d.src[start:end], span(start, end))
	switch {
	case err != nil:
		d.syntax(a.Span, "%s", err)
	case found:
		d.allows = append(d.allows, a)
	}
}

// allowances returns the allowances of the file, each with the innermost part
// whose block holds it.
func (d *document) allowances(parts []scene.Part) []scene.Allow {
	if len(d.allows) == 0 {
		return nil
	}
	order := make([]scene.PartID, len(parts))
	for i := range order {
		order[i] = scene.PartID(i)
	}
	slices.SortStableFunc(order, func(a, b scene.PartID) int {
		return cmp.Compare(parts[a].Body.Start, parts[b].Body.Start)
	})
	var around []scene.PartID
	for i := range d.allows {
		a := &d.allows[i]
		for len(order) > 0 && parts[order[0]].Body.Start <= a.Span.Start {
			around = append(inside(around, parts, parts[order[0]].Body.Start), order[0])
			order = order[1:]
		}
		around = inside(around, parts, a.Span.Start)
		if len(around) > 0 {
			a.Part = around[len(around)-1]
		}
	}
	return d.allows
}

// inside drops from the end of a stack of parts those that end before offset.
func inside(around []scene.PartID, parts []scene.Part, offset uint32) []scene.PartID {
	for len(around) > 0 && parts[around[len(around)-1]].Body.End <= offset {
		around = around[:len(around)-1]
	}
	return around
}
