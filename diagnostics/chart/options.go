package chart

import (
	"cmp"
	"errors"
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Format is a format of pictures.
type Format uint8

// The formats.
const (
	SVG Format = iota
	PNG
)

// Options say how a chart is drawn. The zero value draws an SVG of 720 by 405
// for light backgrounds.
type Options struct {
	// Width and Height are in pixels; 0 means 720 and 405. They are kept
	// between 160 by 90 and 4000 by 4000.
	Width, Height int
	Format        Format
	// Density is the number of dots per pixel of a PNG, 1 to 4; 0 means 2.
	Density int
	// Dark is for dark backgrounds. A chart has its own background.
	Dark bool
	// Step is 1 or 2 for frame marks on ones or twos; 0 follows the motion.
	Step int
	// Before is the earlier pass, drawn behind, or nil. Parts are matched by
	// their paths, frames by their numbers.
	Before *motion.Study
	// Keys are what the two passes are called; empty ones are "now" and
	// "before".
	Keys [2]string
	// Notes are marked where they concern what is drawn.
	Notes []note.Note
}

// compactWidth is the width in pixels below which a chart has small letters and
// leaves out what a hover has no room for.
const compactWidth = 480

func (o *Options) settled() Options {
	s := *o
	s.Width, s.Height = size(o.Width, 720, 160), size(o.Height, 405, 90)
	if s.Density == 0 {
		s.Density = 2
	}
	s.Density = min(max(s.Density, 1), 4)
	s.Keys = [2]string{cmp.Or(s.Keys[0], "now"), cmp.Or(s.Keys[1], "before")}
	return s
}

func size(v, usual, least int) int {
	if v <= 0 {
		return usual
	}
	return min(max(v, least), 4000)
}

// errNoFrames is given for a study without frames.
var errNoFrames = errors.New("the scene has no frames to draw; export its animation")

// clip is a range of frame indices, both ends included.
type clip struct{ first, last int }

// asked returns the frame indices of the display frames of a part that a caller asks
// for, or what is wrong with either.
func asked(s *motion.Study, p scene.PartID, first, last float64) (clip, error) {
	if p < 0 || int(p) >= len(s.Scene.Parts) {
		return clip{}, fmt.Errorf("the scene has no part of that number; it has %d", len(s.Scene.Parts))
	}
	return rangeOf(s, first, last)
}

// rangeOf returns the frame indices of display frames, cut to the study.
func rangeOf(s *motion.Study, first, last float64) (clip, error) {
	if s.N < 2 {
		return clip{}, errNoFrames
	}
	if !(first < last) {
		return clip{}, fmt.Errorf("there is no move in %s; give two different frames, the first one first", words.Span(first, last))
	}
	if last < s.First || first > s.Frame(s.N-1) {
		return clip{}, fmt.Errorf("%s are outside the shot, which has %s", words.Span(first, last), words.Between(s.First, s.Frame(s.N-1)))
	}
	c := clip{s.Index(first), s.Index(last)}
	if c.first == c.last {
		return clip{}, fmt.Errorf("%s hold one frame of the shot, which has %s", words.Span(first, last), words.Between(s.First, s.Frame(s.N-1)))
	}
	return c, nil
}
