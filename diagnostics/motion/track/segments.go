package track

import (
	"math"
	"slices"
	"sort"

	"curvelint/diagnostics/motion/clip"
)

// HoldSeconds is how long a rest must last to be a hold.
const HoldSeconds = 0.25

// Motion is entered above the larger of enterShare of the busy speed (the
// busyShare quantile of the speeds above noise) and a floor, and left below
// leaveShare of that.
const (
	enterShare = 0.10
	busyShare  = 0.95
	leaveShare = 0.50
)

// FloorSpeed returns the speed in units per second that is always slow: 0.05
// figure sizes, 3 degrees or 0.1 of the range in a second.
func FloorSpeed(q Quality) float64 {
	switch q {
	case Rotation:
		return 3
	case Value:
		return 0.1
	}
	return 0.05
}

// MotionLimits are the speeds, in units per second, that part a track's rests
// from its motion.
type MotionLimits struct {
	Enter float64 // motion rises above it
	Leave float64 // and rest falls below it
	Busy  float64 // 95th percentile of the speeds above noise; 0 without any
	Noise float64 // the speed that noise alone can show
}

// MotionLimits returns the limits that cut the track into rests and motion:
//
//	Enter = max(0.1 Busy, FloorSpeed(Quality), Noise)
//	Leave = max(Enter/2, Noise)
func (t *Track) MotionLimits() MotionLimits {
	t.limitsOnce.Do(func() {
		p := t.profile()
		defer p.giveBack()
		t.limits = t.findLimits(&p)
	})
	return t.limits
}

func (t *Track) findLimits(p *profile) MotionLimits {
	var l MotionLimits
	if len(p.speed) > 0 && t.Rate > 0 {
		l.Noise = t.StillLimit() * t.Rate / t.speedFrames()
		p.borrowed.chosen, l.Busy = highPercentile(p.borrowed.chosen, p.speed, l.Noise, busyShare)
	}
	l.Enter = max(enterShare*l.Busy, FloorSpeed(t.Quality), l.Noise)
	l.Leave = max(leaveShare*l.Enter, l.Noise)
	return l
}

// Rests returns the track's stretches without motion in order. Rests and
// strokes together tile the clip: each spacing belongs to one of them, and
// neighbours share a frame. A clip of one frame is one rest. A stretch is motion
// when its speed does not fall below MotionLimits.Leave for 1/24 s and somewhere
// exceeds Enter for 1/24 s; both ends are judged rounding, so that a move played
// backwards has the same first and last frame. A hitch is no rest.
//
// Callers must not write to the result.
func (t *Track) Rests() []Rest {
	t.cutOnce.Do(t.cut)
	return t.rests
}

// Holds returns the rests that last at least HoldSeconds.
func (t *Track) Holds() []Rest {
	t.cutOnce.Do(t.cut)
	return t.holds
}

// Strokes returns the track's strokes in order: its motion, cut at rests and at
// local minima of speed below half of the peaks on both sides, where both peaks
// exceed MotionLimits.Enter. A hitch cuts no stroke.
//
// Callers must not write to the result.
func (t *Track) Strokes() []Stroke {
	t.cutOnce.Do(t.cut)
	return t.strokes
}

// StrokeAt returns the stroke that holds the frame index; of two strokes that
// share it, the one that starts there. ok is false in a rest and outside the
// clip.
func (t *Track) StrokeAt(frame int) (s Stroke, ok bool) {
	all := t.Strokes()
	i := sort.Search(len(all), func(i int) bool { return all[i].First > frame }) - 1
	if i < 0 || frame > all[i].Last {
		return Stroke{}, false
	}
	return all[i], true
}

// RestAt returns the rest that holds the frame index; its first and last frame
// belong to a stroke as well. ok is false within strokes and outside the clip.
func (t *Track) RestAt(frame int) (r Rest, ok bool) {
	all := t.Rests()
	i := sort.Search(len(all), func(i int) bool { return all[i].First > frame }) - 1
	if i < 0 || frame > all[i].Last {
		return Rest{}, false
	}
	return all[i], true
}

// cut finds hitches, rests and strokes.
func (t *Track) cut() {
	p := t.profile()
	defer p.giveBack()
	if len(p.speed) == 0 {
		if t.Len() == 1 {
			t.rests = []Rest{{}}
		}
		return
	}
	t.limitsOnce.Do(func() { t.limits = t.findLimits(&p) })
	limits := t.limits
	t.hitches = t.findHitches(&p)
	v := bridged(p.speed, t.hitches)
	moving := t.moving(v, &p, limits)
	hold := clip.Window(t.Rate, HoldSeconds)
	own := p.borrowed
	own.strokes, own.rests = own.strokes[:0], own.rests[:0]
	for i := 0; i < len(moving); {
		j, now := i+1, moving[i]
		for j < len(moving) && moving[j] == now {
			j++
		}
		if now {
			t.cutStrokes(v, &p, i, j, limits.Enter)
		} else {
			own.rests = append(own.rests, Rest{First: i, Last: j, Hold: j-i >= hold})
		}
		i = j
	}
	t.strokes, t.rests = slices.Clone(own.strokes), slices.Clone(own.rests) // no larger than needed
	for _, r := range t.rests {
		if r.Hold {
			t.holds = append(t.holds, r)
		}
	}
}

// moving tells for every spacing whether it belongs to motion, from its speed.
func (t *Track) moving(v []float64, p *profile, l MotionLimits) []bool {
	least := max(1, t.Rate*frameOfFilm)
	moving := resize(p.borrowed.moving, len(v))
	p.borrowed.moving = moving
	for a := 0; a < len(v); {
		b := runEnd(v, a, l.Leave)
		moves := v[a] >= l.Leave || crossed(v, a, b, l.Leave) < least
		part := moving[a:b]
		for i := range part {
			part[i] = moves
		}
		a = b
	}
	for i := 0; i < len(v); {
		j := i
		for j < len(v) && moving[j] {
			j++
		}
		if j > i && !rises(v, i, j, l.Enter, least) {
			clear(moving[i:j])
		}
		i = j + 1
	}
	t.trim(moving, p.spacing, l.Leave)
	return moving
}

// runEnd returns the end of the run of elements from v[a] on that lie on the
// same side of level.
func runEnd(v []float64, a int, level float64) int {
	high := v[a] >= level
	for i, x := range v[a+1:] {
		if (x >= level) != high {
			return a + 1 + i
		}
	}
	return len(v)
}

// crossed returns for how many spacings the speed stays on one side of level
// over the run v[a:b]: from where the straight line between the neighbouring
// samples crosses it on either side, or from the end of v. A whole number of
// frames would tell a slow turn from a rest by where between two frames it falls.
func crossed(v []float64, a, b int, level float64) float64 {
	n := float64(b - a)
	if a > 0 {
		n += (level-v[a])/(v[a-1]-v[a]) - 0.5
	}
	if b < len(v) {
		n += (level-v[b-1])/(v[b]-v[b-1]) - 0.5
	}
	return n * (1 + rounding)
}

// rises reports whether the speed v[a:b] lies above the limit for at least the
// given number of spacings at a time.
func rises(v []float64, a, b int, limit, least float64) bool {
	for a < b {
		end := runEnd(v, a, limit)
		if v[a] >= limit && crossed(v, a, end, limit) >= least {
			return true
		}
		a = end
	}
	return false
}

// trim takes back what the windows of Speed smeared over the ends of motion: up
// to half their length of spacings that do not move by themselves.
func (t *Track) trim(moving []bool, spacing []float64, leave float64) {
	n, apart := t.speedChords()
	reach := int(math.Ceil((t.speedFrames()+float64(n-1)*apart)/2 - 0.5 - 1e-6))
	if reach == 0 {
		return
	}
	leave *= 1 - rounding // printed decimals may meet it exactly
	still := func(i int) bool { return spacing[i]*t.Rate < leave }
	for i := 0; i < len(moving); {
		if !moving[i] {
			i++
			continue
		}
		j := i + 1
		for j < len(moving) && moving[j] {
			j++
		}
		a, b := i, j
		for a < i+reach && a < b-1 && still(a) {
			moving[a] = false
			a++
		}
		for b > j-reach && b-1 > a && still(b-1) {
			b--
			moving[b] = false
		}
		i = j
	}
}
