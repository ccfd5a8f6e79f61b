package designed

// Line collects the strokes of one value in order of time.
type Line struct {
	poses   []Pose
	profile Profile
}

// NewLine starts a line at a value.
func NewLine(v float64) *Line { return &Line{poses: []Pose{{0, v}}, profile: MinimumJerk} }

// Accent is what a stroke has besides its way: Back is the share of its change
// that it first goes the other way (anticipation, in the first quarter), Over the
// share that it goes too far before it settles for Settle seconds.
type Accent struct{ Back, Over, Settle float64 }

// To adds a stroke to value v that starts at time start and takes dur seconds,
// and reports whether there was room: a stroke that would start before the last
// one has ended is left out.
func (l *Line) To(start, dur, v float64, a Accent) bool {
	last := l.poses[len(l.poses)-1]
	if start < last.T || dur <= 0 {
		return false
	}
	change := v - last.V
	l.add(start, last.V)
	if a.Back > 0 {
		l.add(start+0.25*dur, last.V-a.Back*change)
	}
	if a.Over > 0 && a.Settle > 0 {
		l.add(start+dur, v+a.Over*change)
		dur += a.Settle
	}
	l.add(start+dur, v)
	return true
}

func (l *Line) add(t, v float64) {
	if last := l.poses[len(l.poses)-1]; t > last.T {
		l.poses = append(l.poses, Pose{t, v})
	}
}

// Value is where the line stands after its last stroke.
func (l *Line) Value() float64 { return l.poses[len(l.poses)-1].V }

// End is when the last stroke ends.
func (l *Line) End() float64 { return l.poses[len(l.poses)-1].T }

// Signal is the line as a signal.
func (l *Line) Signal() Signal { return Through(l.profile, l.poses...) }
