// Package scenetest checks the promises that every parser makes about the
// scenes it returns, whatever the input. It is for tests.
package scenetest

import (
	"fmt"
	"math"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Check returns an error that names the first promise that the scene breaks,
// nil when it keeps all: references are in range, parents stand before their
// children, paths and channel names are unique, columns have fitting lengths
// and finite numbers, times ascend, spans lie in their files.
func Check(s *scene.Scene) error {
	if s == nil || len(s.Files) == 0 || s.Files[0] == nil {
		return fmt.Errorf("no scene, or a scene without its file")
	}
	if !(s.Rate > 0) || !finite(s.Rate, s.First, s.Last, s.MetersPerUnit) {
		return fmt.Errorf("rate %v, frames %v to %v, %v metres a unit", s.Rate, s.First, s.Last, s.MetersPerUnit)
	}
	for _, check := range []func(*scene.Scene) error{parts, channels, cameras, problems} {
		if err := check(s); err != nil {
			return err
		}
	}
	return nil
}

func finite(values ...float64) bool {
	for _, v := range values {
		if v-v != 0 {
			return false
		}
	}
	return true
}

// inside reports whether a span lies in its file.
func inside(s *scene.Scene, spans ...scene.Span) error {
	for _, at := range spans {
		if at.File < 0 || int(at.File) >= len(s.Files) {
			return fmt.Errorf("span %v is of no file", at)
		}
		if n := len(s.Files[at.File].Text); at.Start > at.End || int(at.End) > n {
			return fmt.Errorf("span %v in a file of %d bytes", at, n)
		}
	}
	return nil
}

func parts(s *scene.Scene) error {
	paths := make(map[string]bool, len(s.Parts))
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.ID != scene.PartID(i) || p.Parent < scene.NoPart || p.Parent >= p.ID {
			return fmt.Errorf("part %d has the id %d and the parent %d", i, p.ID, p.Parent)
		}
		if paths[p.Path] || !strings.HasPrefix(p.Path, "/") {
			return fmt.Errorf("path %q of part %d is not unique or not from the root", p.Path, i)
		}
		paths[p.Path] = true
		if err := inside(s, p.Def, p.NameSpan, p.Body); err != nil {
			return fmt.Errorf("part %s: %w", p.Path, err)
		}
		if !finite(p.Rest[:]...) {
			return fmt.Errorf("part %s rests at %v", p.Path, p.Rest)
		}
		for n, op := range p.Ops {
			if len(op.Value) != op.Kind.Width() || !finite(op.Value...) {
				return fmt.Errorf("op %d of part %s has the value %v", n, p.Path, op.Value)
			}
			if err := inside(s, op.Span); err != nil {
				return fmt.Errorf("op %d of part %s: %w", n, p.Path, err)
			}
		}
	}
	return nil
}

func channels(s *scene.Scene) error {
	type key struct {
		part scene.PartID
		name string
	}
	names := make(map[key]bool, len(s.Channels))
	for i := range s.Channels {
		c := &s.Channels[i]
		if c.Part < 0 || int(c.Part) >= len(s.Parts) {
			return fmt.Errorf("channel %d is of part %d", i, c.Part)
		}
		part := &s.Parts[c.Part]
		where := fmt.Sprintf("channel %s of %s", c.Name, part.Path)
		if names[key{c.Part, c.Name}] || c.Name == "" {
			return fmt.Errorf("%s: the name is not unique", where)
		}
		names[key{c.Part, c.Name}] = true
		if c.Op != scene.NoOp && (c.Op < 0 || c.Op >= len(part.Ops) || c.Component < 0 || c.Component+c.Curve.Stride > part.Ops[c.Op].Kind.Width()) {
			return fmt.Errorf("%s drives component %d of op %d", where, c.Component, c.Op)
		}
		if err := inside(s, c.Def, c.Block); err != nil {
			return fmt.Errorf("%s: %w", where, err)
		}
		if err := curve(s, &c.Curve); err != nil {
			return fmt.Errorf("%s: %w", where, err)
		}
	}
	return nil
}

// curve checks the columns of a curve.
func curve(s *scene.Scene, c *scene.Curve) error {
	n := c.Len()
	if c.Stride < 1 || c.Numbers() != n*c.Stride || c.Values != nil && c.Single != nil {
		return fmt.Errorf("%d keys, stride %d, %d values", n, c.Stride, c.Numbers())
	}
	last := math.Inf(-1)
	for _, t := range c.Times {
		if !finite(t) || t <= last {
			return fmt.Errorf("a key at %v after one at %v", t, last)
		}
		last = t
	}
	if !finite(c.Doubles()...) || !finite(c.PreSlope, c.PostSlope) || !(c.Step >= 0) {
		return fmt.Errorf("values that are not finite, or a step of %v", c.Step)
	}
	if c.Interp != nil && len(c.Interp) != n || c.PreValues != nil && len(c.PreValues) != n || !finite(c.PreValues...) {
		return fmt.Errorf("%d interpolations and %d values before for %d keys", len(c.Interp), len(c.PreValues), n)
	}
	if h := c.Handles; h != nil {
		for _, column := range [][]float64{h.InT, h.OutT} {
			if column != nil && len(column) != n || !finite(column...) {
				return fmt.Errorf("handle times %v for %d keys", column, n)
			}
		}
		for _, column := range [][]float64{h.InV, h.OutV} {
			if len(column) != n*c.Stride || !finite(column...) {
				return fmt.Errorf("%d handle values for %d keys", len(column), n)
			}
		}
	}
	return keySpans(s, c)
}

func keySpans(s *scene.Scene, c *scene.Curve) error {
	if c.Spans == nil {
		return nil
	}
	if c.SpanStride != 1 && c.SpanStride != c.Stride || len(c.Spans) != c.Len()*c.SpanStride {
		return fmt.Errorf("%d spans of stride %d for %d keys of stride %d", len(c.Spans), c.SpanStride, c.Len(), c.Stride)
	}
	if c.File < 0 || int(c.File) >= len(s.Files) {
		return fmt.Errorf("keys in file %d", c.File)
	}
	for _, start := range c.Spans {
		if int(start) >= len(s.Files[c.File].Text) {
			return fmt.Errorf("a key at %d in a file of %d bytes", start, len(s.Files[c.File].Text))
		}
	}
	return nil
}

func cameras(s *scene.Scene) error {
	valid := func(p scene.PartID) bool { return p >= 0 && int(p) < len(s.Parts) }
	if s.DefaultCamera != scene.NoPart && !valid(s.DefaultCamera) {
		return fmt.Errorf("the default camera is part %d", s.DefaultCamera)
	}
	for _, c := range s.Cameras {
		if !valid(c.Part) || !finite(c.FocalLength, c.HorizontalAperture, c.VerticalAperture, c.HorizontalOffset, c.VerticalOffset) {
			return fmt.Errorf("camera %+v", c)
		}
		for _, id := range []scene.ChannelID{c.FocalLengthChannel, c.HorizontalChannel, c.VerticalChannel, c.HorizontalOffsetChan, c.VerticalOffsetChan} {
			if id < scene.NoChannel || int(id) >= len(s.Channels) {
				return fmt.Errorf("camera channel %d", id)
			}
		}
	}
	return nil
}

func problems(s *scene.Scene) error {
	if len(s.Problems) > scene.MaxProblems {
		return fmt.Errorf("%d problems", len(s.Problems))
	}
	for _, p := range s.Problems {
		if p.Message == "" || strings.ContainsAny(p.Message, "\r\n") || strings.HasSuffix(p.Message, ".") {
			return fmt.Errorf("problem message %q is empty, of several lines or ends in a full stop", p.Message)
		}
		if p.Kind == scene.Internal {
			return fmt.Errorf("%s", p.Message)
		}
		if err := inside(s, p.Span); err != nil {
			return fmt.Errorf("problem %q: %w", p.Message, err)
		}
	}
	return nil
}

// CheckKeys returns an error when a key of a format that prints its keys as
// plain numbers is not, digit for digit, the number at its span.
func CheckKeys(s *scene.Scene) error {
	for id := range s.Channels {
		c := &s.Channels[id].Curve
		for k := range c.Times {
			at := s.KeySpan(scene.ChannelID(id), k, 0)
			word := s.Files[at.File].Text[at.Start:at.End]
			if v, end, ok := text.Float(word, 0); !ok || v != c.Values[k] || end != len(word) {
				return fmt.Errorf("key %d of channel %d is %v, its text %q", k, id, c.Values[k], word)
			}
		}
	}
	return nil
}
