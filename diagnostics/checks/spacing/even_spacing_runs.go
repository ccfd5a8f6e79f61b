package spacing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// evenRuns finds the even runs of a track that are long, large and fast enough.
func evenRuns(c *kit.Context, fig *motion.Figure, t *track.Track, l *evenLimits) []evenRun {
	var out []evenRun
	for _, r := range track.Kept(t, *l, func() []evenRun { return seenRuns(t, l) }) {
		// What costs most comes last.
		if !c.Study.Judged(r.First, r.Last) || kit.GivesWay(c, fig, t, r.First, r.Last) || !evenAsSeen(c, fig, &r, l) {
			continue
		}
		r.Size = kit.LikeFigures(t.Quality, r.length)
		r.Drivers = c.Study.Drivers(t, r.First, r.Last)
		if len(r.Drivers) == 0 || carriedRoot(c, fig, r.Drivers[0].Channel) || nobodysDoing(c, &r) {
			continue
		}
		out = append(out, r)
	}
	return out
}

// seenRuns returns the longest even run of each stroke where it is seen.
func seenRuns(t *track.Track, l *evenLimits) []evenRun {
	var out []evenRun
	for _, k := range t.Strokes() {
		if r, ok := longestEven(t, k, l); ok && l.seen(t, &r, k) {
			r.covers = float64(r.Last-r.First) / float64(k.Last-k.First)
			out = append(out, r)
		}
	}
	return out
}

// nobodysDoing reports whether no channel makes the point move evenly: none does most
// of the work, or the one that does is eased itself and others make up for it. A
// run over nearly all of a stroke is no chance, as where a hand was moved evenly
// and the arm follows it.
func nobodysDoing(c *kit.Context, r *evenRun) bool {
	if r.Track.Space != track.World {
		return false
	}
	return r.Drivers[0].Value < evenSpacingOwnWork.Value || r.covers < evenSpacingMostlyEven.Value && easedDriver(c, r)
}

// easedDriver reports whether what the driver of a run adds to the path in one
// part of it is less than the share of an eased driver of what it adds in another.
func easedDriver(c *kit.Context, r *evenRun) bool {
	n := max(min((r.Last-r.First)/2, int(evenSpacingParts.Value)), 1)
	lo, hi := math.Inf(1), 0.0
	for i := range n {
		a, b := r.First+(r.Last-r.First)*i/n, r.First+(r.Last-r.First)*(i+1)/n
		work := 0.0
		for _, d := range c.Study.Drivers(r.Track, a, b) {
			if d.Channel == r.Driver() {
				work = d.Value * r.Track.PathLength(a, b) / float64(b-a)
			}
		}
		lo, hi = min(lo, work), max(hi, work)
	}
	return lo < evenSpacingEasedShare.Value*hi
}

// evenAsSeen reports whether a part that turns evenly seen from its parent also does
// so to the audience, about as evenly and as fast: a counter-move of a foot that
// stands, or of a chest in a walk, does not. A stroke that is even nearly from
// end to end is that of its own curve, whatever its parents add.
func evenAsSeen(c *kit.Context, fig *motion.Figure, r *evenRun, l *evenLimits) bool {
	if r.Track.Quality != track.Rotation {
		return true
	}
	if wanders(r) {
		return false
	}
	s := c.Study
	seen := kit.SeenWorlds(c, fig, r.Track.Part, r.First, r.Last+1)
	w, by := kit.FilmFrame.Frames(s.Rate), 1
	if r.onTwos {
		w = r.Track.StepFrames(2)
		by = w
	}
	lo, hi, sum, n := math.Inf(1), 0.0, 0.0, 0.0
	for i := 0; i+w < len(seen); i += by {
		d := seen[i].AngleTo(&seen[i+w])
		lo, hi, sum, n = min(lo, d), max(hi, d), sum+d, n+1
	}
	mean := sum / n
	alike := hi-lo <= evenSpacingSeenContrast.Value*l.contrast*mean || r.covers >= evenSpacingMostlyEven.Value && mean > evenSpacingHalfSeen.Value*r.length/float64(r.Last-r.First)*float64(w)
	return n > 0 && alike && mean*s.Rate/float64(w) >= l.minSpeed[track.Rotation]
}

// wanders reports whether the axis of a turn changes by more than 45 degrees in a
// run: two turns about different axes, one slowing down while the other speeds up,
// as the hips of a walk yaw and tilt. Each of them eases; that the angle of both
// together grows evenly shows to nobody.
func wanders(r *evenRun) bool {
	t := r.Track
	w := min(kit.FilmFrame.Frames(t.Rate), r.Last-r.First)
	from := r3.Sub(t.At(r.First+w), t.At(r.First))
	for i := r.First; i+w <= r.Last; i++ {
		d := r3.Sub(t.At(i+w), t.At(i))
		if r3.Dot(from, d) < evenSpacingOneAxis.Value*r3.Norm(from)*r3.Norm(d) {
			return true
		}
	}
	return false
}

// cutOff reports whether the stroke runs at half its speed or more when the clip
// begins or ends.
func cutOff(t *track.Track, k track.Stroke) bool {
	if k.First > 0 && k.Last < t.Len()-1 {
		return false
	}
	v := t.Speed()
	return (k.First == 0 && v[0] > evenSpacingCutSpeed.Value*k.PeakSpeed) || (k.Last == t.Len()-1 && v[len(v)-1] > evenSpacingCutSpeed.Value*k.PeakSpeed)
}

// longestEven returns the longest even run of a stroke: on ones, with spacing
// over 1/24 s from every frame, or on twos when the track moves on twos.
func longestEven(t *track.Track, k track.Stroke, l *evenLimits) (evenRun, bool) {
	best := evenRun{Candidate: kit.Candidate{Track: t}}
	least := kit.SureNoise.Value * t.Noise
	if t.Stepping() == 2 {
		step := t.StepFrames(2)
		for parity := range step {
			v := t.AppendSpacing(nil, k.First+parity, k.Last, step)
			if r, ok := track.LongestEvenRun(v, l.contrast, least, 2); ok && r.Count > best.spacings {
				best.First = k.First + parity + r.First*step
				best.Last, best.spacings, best.onTwos = best.First+r.Count*step, r.Count, true
				best.mean, best.contrast = r.Mean, r.Evenness
			}
		}
	} else {
		w := kit.FilmFrame.Frames(t.Rate)
		if !mayBeEven(t, k, w, l) {
			return best, false
		}
		v := make([]float64, 0, k.Last-k.First)
		for i := k.First; i+w <= k.Last; i++ {
			v = t.AppendSpacing(v, i, i+w, w)
		}
		if r, ok := track.LongestEvenRun(v, l.contrast, least, 2); ok {
			best.First, best.Last = k.First+r.First, k.First+r.First+r.Count-1+w
			best.spacings = (best.Last - best.First) / w
			best.mean, best.contrast = r.Mean, r.Evenness
		}
	}
	for _, s := range t.AppendSpacing(nil, best.First, best.Last, 1) {
		best.length += s
	}
	return best, best.spacings > 0
}

// mayBeEven reports whether a stroke may hold an even run long enough for seen,
// with spacings over w frames. Of n spacings every run of c holds one of those at
// c-1, 2c-1, 3c-1, ...; around each of these few the spacings of an even run are
// alike,
//
//	s (1 - evenness) <= each <= s / (1 - evenness)
//
// since their largest and smallest differ by at most evenness times the largest.
// Most strokes are done with after a few spacings.
func mayBeEven(t *track.Track, k track.Stroke, w int, l *evenLimits) bool {
	n := k.Last - k.First - w + 1
	frames := max(l.coverage*float64(k.Last-k.First), (l.minTime-kit.Rounding.Value)*t.Rate, float64(l.minSpacings*w))
	c := max(int(math.Ceil(frames-kit.Rounding.Value))-w+1, 1)
	if c > n {
		return false
	}
	slack := kit.Rounding.Value
	low, high := 1-l.contrast-slack, 1/max(1-l.contrast-slack, slack)
	for at := c - 1; at < n; at += c {
		s := squaredChord(t, k.First+at, w)
		alike := func(i int) bool {
			v := squaredChord(t, k.First+i, w)
			return v >= low*low*s && v <= high*high*s
		}
		a, b := at, at+1
		for a > 0 && b-a < c && alike(a-1) {
			a--
		}
		for b < n && b-a < c && alike(b) {
			b++
		}
		if b-a >= c {
			return true
		}
	}
	return false
}

func squaredChord(t *track.Track, i, w int) float64 { return r3.Norm2(r3.Sub(t.At(i+w), t.At(i))) }

// carriedRoot reports whether the channel moves the root of a figure that walks or
// runs: a body in locomotion carries its root evenly, and its hips turn with the
// steps.
func carriedRoot(c *kit.Context, fig *motion.Figure, ch scene.ChannelID) bool {
	return c.Study.IsAncestor(c.Study.Scene.Channels[ch].Part, fig.Root) && fig.Locomotion()
}
