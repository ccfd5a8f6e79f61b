package motion

import "sync"

// profile is a track's Spacing and Speed, borrowed: most tracks are cut into
// strokes once, and their profiles would take most of the memory of a study.
type profile struct {
	spacing, speed []float64 // of equal length
	borrowed       *scratch
}

// scratch is memory for one profile and for choosing from it.
type scratch struct{ spacing, speed, chosen []float64 }

var scratches = sync.Pool{New: func() any { return new(scratch) }}

// profile returns the track's profile, which must be given back.
func (t *Track) profile() profile {
	n := max(t.Len()-1, 0)
	s := scratches.Get().(*scratch)
	p := profile{borrowed: s}
	if kept := t.spacing.Load(); kept != nil {
		p.spacing = *kept
	} else {
		s.spacing = t.AppendSpacing(s.spacing[:0], 0, n, 1)
		p.spacing = s.spacing
	}
	if kept := t.speed.Load(); kept != nil {
		p.speed = *kept
	} else {
		s.speed = resize(s.speed, n)
		t.speeds(s.speed, p.spacing)
		p.speed = s.speed
	}
	return p
}

func (p *profile) giveBack() { scratches.Put(p.borrowed) }
