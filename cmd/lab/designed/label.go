package designed

import "math"

// Label is one flaw planted in a shot: the note that a true judge gives.
type Label struct {
	Check string // the check's id
	// Part is the path of the part that the note sits on; Also are parts that
	// it may sit on as well.
	Part string
	Also []string
	// From and To are the times of its first and last frame in seconds.
	From, To float64
	// Formats are the formats that can carry the flaw; nil means all.
	Formats []string
	Why     string // what was done, for people
}

// Frames returns the label's first and last display frame in a take.
func (l *Label) Frames(t *Take) (first, last int) {
	start, k := t.Shot.Start, t.Shot.slowed()
	return t.First + int(math.Round((k*l.From-start)*t.Rate)), t.First + int(math.Round((k*l.To-start)*t.Rate))
}

// In reports whether a format of the given short name carries the flaw.
func (l *Label) In(format string) bool {
	for _, f := range l.Formats {
		if f == format {
			return true
		}
	}
	return l.Formats == nil
}

// Plant notes a flaw.
func (s *Shot) Plant(l Label) { s.Labels = append(s.Labels, l) }

// Jump adds Size to one component of a part for the one frame nearest to the
// time At, at whatever rate the shot is taken; with Stays the change stays from
// there on.
type Jump struct {
	Part  int
	Turn  bool // else the move
	Axis  int
	At    float64
	Size  float64 // degrees or units
	Stays bool
}

// Wrap adds a whole turn to one angle of a part from the time At on: the same
// pose, but a different number, so that what lies between two frames goes the
// long way round in formats that interpolate angles.
type Wrap struct {
	Part, Axis int
	At         float64
	Turns      float64
}

// column returns the column nearest to a time.
func (t *Take) column(at float64) int {
	return max(0, min(t.N-1, int(math.Round((at*t.Shot.slowed()-t.Shot.Start)*t.Rate))))
}

// jump applies the shot's jumps to a take with per columns a frame.
func (t *Take) jump(per int) {
	for _, j := range t.Shot.Jumps {
		frame := (t.column(j.At) + per/2) / per * per
		first, last := max(0, frame-per+1), min(t.N-1, frame+per-1)
		if j.Stays {
			last = t.N - 1
		}
		for f := first; f <= last; f++ {
			share := 1 - math.Abs(float64(f-frame))/float64(per)
			if j.Stays && f > frame {
				share = 1
			}
			j.apply(&t.Rows[j.Part], f, share)
		}
	}
}

// apply adds a share of the jump to one column.
func (j Jump) apply(r *Row, f int, share float64) {
	size := share * j.Size
	if j.Turn {
		e := Angles(r.Turn[f], OrderZYX, [3]float64{})
		e[j.Axis] += size
		r.Turn[f] = Turned(e)
		return
	}
	switch j.Axis {
	case X:
		r.Move[f].X += size
	case Y:
		r.Move[f].Y += size
	default:
		r.Move[f].Z += size
	}
}

func (w Wrap) apply(t *Take, angles [][3]float64) {
	for f := t.column(w.At); f < t.N; f++ {
		angles[f][w.Axis] += 360 * w.Turns
	}
}
