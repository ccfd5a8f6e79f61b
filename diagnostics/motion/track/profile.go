package track

import "sync"

// profile is a track's Spacing and Speed, borrowed: most tracks are cut into
// strokes once, and their profiles would take most of the memory of a study.
type profile struct {
	spacing, speed []float64 // of equal length
	borrowed       *scratch
}

// scratch is memory for one profile and for what is made of it on the way.
type scratch struct {
	spacing, speed, chosen []float64
	valleys                []valley
	moving                 []bool
	strokes                []Stroke
	rests                  []Rest
}

var scratches = sync.Pool{New: func() any { return new(scratch) }}

// profile returns the track's profile, which must be given back.
func (t *Track) profile() profile {
	n := max(t.Len()-1, 0)
	s := scratches.Get().(*scratch)
	p := profile{borrowed: s}
	if kept := t.spacing.Load(); kept != nil {
		p.spacing = *kept
	} else {
		s.spacing = resize(s.spacing, n)
		t.fillSpacing(s.spacing)
		p.spacing = s.spacing
	}
	if kept := t.speed.Load(); kept != nil {
		p.speed = *kept
	} else {
		s.speed = resize(s.speed, n)
		t.fillSpeed(s.speed, p.spacing)
		p.speed = s.speed
	}
	return p
}

func (p *profile) giveBack() { scratches.Put(p.borrowed) }

// fillSpacing sets s, of Len()-1 elements, to Spacing. Whether the track moves in
// each step falls out on the way, and is kept where Stepping will ask for it.
func (t *Track) fillSpacing(s []float64) {
	if t.moved.Load() != nil || t.GivenStep == 1 || t.GivenStep == 2 {
		t.AppendSpacing(s[:0], 0, t.Len()-1, 1)
		return
	}
	moves := newStepSet(len(s))
	t.measureSteps(moves, s)
	t.moved.CompareAndSwap(nil, &moves)
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
