package fixes

import (
	"fmt"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// removeIdle takes the keys of a note out of the text, in formats that write
// each sample of a channel by itself: USD layers. In others a frame's line
// holds every part, or counts are written that would no longer be right.
func removeIdle(s *motion.Study, n *note.Note) (Fix, error) {
	f := Fix{ID: "remove-idle", Title: "Remove the idle key", Preferred: true}
	if n.Channel == scene.NoChannel || s.Scene.Format != "usda" {
		return f, errNone
	}
	c := &s.Scene.Channels[n.Channel]
	if c.Curve.Spans == nil {
		return f, errNone
	}
	count := 0
	for key, t := range c.Curve.Times {
		if t < n.First || t > n.Last {
			continue
		}
		at := s.Scene.KeySpan(n.Channel, key, 0)
		whole, ok := sampleAt(s.Scene.Files[at.File].Text, at)
		if !ok {
			return f, refuse("the sample at frame %s is not written by itself", words.Frame(t))
		}
		f.Edits = append(f.Edits, Edit{Span: whole})
		count++
	}
	if count == 0 {
		return f, errNone
	}
	if count > 1 {
		f.Title = fmt.Sprintf("Remove the %d idle keys", count)
	}
	slices.SortFunc(f.Edits, func(a, b Edit) int { return int(a.Span.Start) - int(b.Span.Start) })
	return f, nil
}

// sampleAt returns the sample "frame: value," around a value in the samples of
// a USD attribute, with its line end when it has a line to itself.
func sampleAt(text []byte, value scene.Span) (scene.Span, bool) {
	start := int(value.Start)
	for start > 0 && text[start-1] != ',' && text[start-1] != '{' && text[start-1] != '\n' {
		start--
		if int(value.Start)-start > maxSample {
			return value, false
		}
	}
	if !slices.Contains(text[start:value.Start], ':') {
		return value, false // a component inside a tuple, or a time on another line
	}
	end, depth := start, 0
	for ; end < len(text) && end-start < maxSample; end++ {
		switch text[end] {
		case '(', '[':
			depth++
		case ')', ']':
			depth--
		case ',', '}':
			if depth > 0 {
				continue
			}
			if text[end] == ',' {
				end++
			}
			return widen(text, scene.Span{File: value.File, Start: uint32(start), End: uint32(end)}), true
		}
	}
	return value, false
}

// maxSample bounds the text of one sample.
const maxSample = 4096

// widen takes in the line end of a sample that has a line to itself.
func widen(text []byte, at scene.Span) scene.Span {
	if at.Start > 0 && text[at.Start-1] != '\n' {
		return at
	}
	end := at.End
	for int(end) < len(text) && (text[end] == ' ' || text[end] == '\t' || text[end] == '\r') {
		end++
	}
	if int(end) < len(text) && text[end] == '\n' {
		at.End = end + 1
	}
	return at
}
