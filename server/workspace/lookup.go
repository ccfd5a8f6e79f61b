package workspace

import (
	"iter"
	"slices"
	"sort"
	"sync"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Lookup answers what is written where in the files of a scene. It is safe for
// concurrent use.
type Lookup struct {
	Scene *scene.Scene

	indexes []indexOnce
	byFile  [][]scene.ChannelID // channels whose keys have places, by file

	orderOnce sync.Once
	unordered []bool // by channel: its places do not rise with its keys
}

type indexOnce struct {
	once  sync.Once
	index *text.Index
}

// Place is a component of a key and where it is written.
type Place struct {
	Channel   scene.ChannelID
	Key       int
	Component int // of the channel; 0 where all have one place
	Span      scene.Span
}

// NewLookup returns the lookup of a scene. Index is that of file 0 where it is
// known already, else nil.
func NewLookup(sc *scene.Scene, index *text.Index) *Lookup {
	l := &Lookup{Scene: sc, indexes: make([]indexOnce, len(sc.Files)), byFile: make([][]scene.ChannelID, len(sc.Files))}
	if index != nil && !sc.Files[0].Decoded {
		l.indexes[0].once.Do(func() { l.indexes[0].index = index })
	}
	for id := range sc.Channels {
		if c := &sc.Channels[id].Curve; c.Spans != nil && c.Len() > 0 {
			l.byFile[c.File] = append(l.byFile[c.File], scene.ChannelID(id))
		}
	}
	return l
}

// Index returns the line index of one of the scene's files.
func (l *Lookup) Index(f scene.FileID) *text.Index {
	x := &l.indexes[f]
	x.once.Do(func() { x.index = text.NewIndex(l.Scene.Files[f].Text) })
	return x.index
}

// nearby is how far a key may be from the cursor, in bytes: a whole file may be
// one line.
const nearby = 64 << 10

// KeyAt returns the key written at an offset of a file, or the nearest key to
// its right, else to its left, on the same line.
func (l *Lookup) KeyAt(f scene.FileID, offset int) (Place, bool) {
	x := l.Index(f)
	start, end := x.Bounds(x.Line(offset))
	start, end = max(start, offset-nearby), min(end, offset+nearby)
	best, gap := Place{}, -1
	for p := range l.KeysIn(f, start, end) {
		g := distance(p.Span, offset, end-start)
		if gap < 0 || g < gap {
			best, gap = p, g
		}
	}
	return best, gap >= 0
}

// distance ranks places by how near they are to an offset: one that holds it,
// those to its right, those to its left.
func distance(s scene.Span, offset, width int) int {
	switch {
	case offset >= int(s.Start) && offset <= int(s.End):
		return 0
	case offset < int(s.Start):
		return int(s.Start) - offset
	}
	return width + offset - int(s.End)
}

// KeysIn yields the keys written in [start, end) of a file, by channel and key.
// Vectors whose components have one place are one entry.
func (l *Lookup) KeysIn(f scene.FileID, start, end int) iter.Seq[Place] {
	return func(yield func(Place) bool) {
		for _, id := range l.byFile[f] {
			if !l.keysOf(id, start, end, yield) {
				return
			}
		}
	}
}

// keysOf yields the keys of one channel; it returns false when no more are wanted.
func (l *Lookup) keysOf(id scene.ChannelID, start, end int, yield func(Place) bool) bool {
	c := &l.Scene.Channels[id].Curve
	unordered := l.isUnordered(id)
	if !unordered && (int(c.Spans[0]) >= end || int(c.Spans[len(c.Spans)-1]) < start) {
		return true
	}
	width := max(c.SpanStride, 1)
	i := 0
	if !unordered {
		i = sort.Search(len(c.Spans), func(i int) bool { return int(c.Spans[i]) >= start })
	}
	for ; i < len(c.Spans); i++ {
		at := int(c.Spans[i])
		if at >= end && !unordered {
			break
		}
		if at >= start && at < end {
			key, component := i/width, i%width
			if !yield(Place{id, key, component, l.Scene.KeySpan(id, key, component)}) {
				return false
			}
		}
	}
	return true
}

// isUnordered reports whether the keys of a channel are written in another
// order than that of their times, as USD allows.
func (l *Lookup) isUnordered(id scene.ChannelID) bool {
	l.orderOnce.Do(func() {
		l.unordered = make([]bool, len(l.Scene.Channels))
		for i := range l.Scene.Channels {
			l.unordered[i] = !slices.IsSorted(l.Scene.Channels[i].Curve.Spans)
		}
	})
	return l.unordered[id]
}

// PartAt returns the innermost part whose text holds an offset of a file.
func (l *Lookup) PartAt(f scene.FileID, offset int) scene.PartID {
	best := scene.NoPart
	for i := range l.Scene.Parts {
		if p := &l.Scene.Parts[i]; holds(p.Body, f, offset) || holds(p.Def, f, offset) {
			if best == scene.NoPart || narrower(p.Body, l.Scene.Parts[best].Body) {
				best = scene.PartID(i)
			}
		}
	}
	return best
}

// HeaderAt returns the part whose header begins on the line of an offset of a
// file, or NoPart. Of several it is the last one that begins before the offset.
func (l *Lookup) HeaderAt(f scene.FileID, offset int) scene.PartID {
	x := l.Index(f)
	start, end := x.Bounds(x.Line(offset))
	found := scene.NoPart
	for i := range l.Scene.Parts {
		at := l.Scene.Parts[i].Def
		if at.File != f || at.Empty() || int(at.Start) < start || int(at.Start) > end {
			continue
		}
		if found == scene.NoPart || int(at.Start) <= offset {
			found = scene.PartID(i)
		}
	}
	return found
}

// ChannelAt returns the channel whose header is on the line of an offset of a
// file, else the one whose block holds the offset, else NoChannel. Of several
// it is the one whose header holds the offset, else the first.
func (l *Lookup) ChannelAt(f scene.FileID, offset int) scene.ChannelID {
	x := l.Index(f)
	start, end := x.Bounds(x.Line(offset))
	onLine, around := scene.NoChannel, scene.NoChannel
	for i := range l.Scene.Channels {
		c := &l.Scene.Channels[i]
		switch {
		case holds(c.Def, f, offset):
			return scene.ChannelID(i)
		case onLine == scene.NoChannel && c.Def.File == f && !c.Def.Empty() && int(c.Def.Start) >= start && int(c.Def.Start) <= end:
			onLine = scene.ChannelID(i)
		case around == scene.NoChannel && holds(c.Block, f, offset):
			around = scene.ChannelID(i)
		}
	}
	if onLine != scene.NoChannel {
		return onLine
	}
	return around
}

func holds(s scene.Span, f scene.FileID, offset int) bool {
	return s.File == f && !s.Empty() && int(s.Start) <= offset && offset <= int(s.End)
}

func narrower(a, b scene.Span) bool { return a.End-a.Start <= b.End-b.Start }
