package motion

import (
	"math"

	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// PoseTracks returns the tracks that together make the figure's pose relative
// to its carrier: every part's own motion, and for a carrier that is no parent
// of the figure the carried paths of its points instead of the root's motion.
func (fig *Figure) PoseTracks() []*track.Track {
	s := fig.study
	s.worldOnce.Do(s.solvePoints) // makes most rotations on the way
	var out []*track.Track
	if fig.Carrier != scene.NoPart && !s.IsAncestor(fig.Carrier, fig.Root) {
		for i := range fig.Points {
			out = append(out, fig.CarriedTrack(i))
		}
	} else {
		for p := fig.Root; p != scene.NoPart && p != fig.Carrier; p = s.ParentInSpace(p) {
			out = append(out, s.LocalTracks(p)...)
		}
	}
	for _, p := range fig.Parts {
		if p != fig.Root && s.NatureOf(p) == Living {
			out = append(out, s.LocalTracks(p)...)
		}
	}
	return out
}

// Blocked measures for StillBlocked: the shares that make a clip blocking.
const (
	blockedShare = 0.7
	blockedParts = 4
)

// StillBlocked reports whether the figure is still in blocking: poses that jump
// from one to the next. On authored keys, when 70 % of the keyed frames are
// shared by 70 % of at least 4 moving parts and the segments hold or step; on a bake,
// when 70 % of the frames repeat the pose before and each change takes one
// frame.
func (fig *Figure) StillBlocked() bool {
	return fig.blockedKeys() || fig.blockedBake()
}

func (fig *Figure) blockedKeys() bool {
	s := fig.study
	frames := map[float64]int{}
	parts, segments, held := 0, 0, 0
	for _, p := range fig.Parts {
		mine, moves := map[float64]bool{}, false
		for _, id := range s.Channels(p) {
			c := &s.Scene.Channels[id].Curve
			if c.Len() < 2 || solve.Constant(c) {
				continue
			}
			moves = true
			if solve.HasBake(c) {
				continue
			}
			for i, t := range c.Times {
				mine[t] = true
				if i+1 < c.Len() {
					segments++
					if s.heldSegment(c, i) {
						held++
					}
				}
			}
		}
		if !moves {
			continue
		}
		parts++ // a baked part shares no keys with the others, but it moves
		for t := range mine {
			frames[t]++
		}
	}
	if parts < blockedParts || len(frames) < 3 || float64(held) < blockedShare*float64(segments) {
		return false
	}
	shared := 0
	for _, n := range frames {
		if float64(n) >= blockedShare*float64(parts) {
			shared++
		}
	}
	return float64(shared) >= blockedShare*float64(len(frames))
}

// longStep is how long a pose must be held, in seconds, to be one of blocking: up
// to fours are motion on twos, threes or fours.
const longStep = 4.0 / 24

// heldSegment reports whether the curve holds from key i to i+1, or steps to
// the next value within a frame, for longer than motion on fours does.
func (s *Study) heldSegment(c *scene.Curve, i int) bool {
	if stepsIn(c, i) {
		return !stepsIn(c, i-1) && !stepsIn(c, i+1) // frame after frame is a move
	}
	if c.Times[i+1]-c.Times[i] <= longStep*s.Rate*(1+1e-6) {
		return false
	}
	if k := c.SegmentInterp(i); k == scene.Held || k == scene.Blank {
		return true
	}
	if !sameValue(c, i, i+1) {
		return false
	}
	return c.SegmentInterp(i) != scene.Bezier || c.Handles == nil || (c.Handles.OutV[i*c.Stride] == 0 && c.Handles.InV[(i+1)*c.Stride] == 0)
}

// stepsIn reports whether the curve has a segment i of one frame that changes its
// value.
func stepsIn(c *scene.Curve, i int) bool {
	return i >= 0 && i+1 < c.Len() && c.Times[i+1]-c.Times[i] <= 1+1e-6 && !sameValue(c, i, i+1)
}

func sameValue(c *scene.Curve, i, j int) bool {
	for k := range c.Stride {
		if c.Value(i*c.Stride+k) != c.Value(j*c.Stride+k) {
			return false
		}
	}
	return true
}

// blockedBake looks at the evaluated pose: at least three changes, each of one
// frame, and 70 % of the steps still, on film as well: on twos at 48 frames a
// second three frames of four repeat the one before, and nothing is blocked.
func (fig *Figure) blockedBake() bool {
	if len(fig.Parts) < blockedParts {
		return false
	}
	n := max(fig.study.N-1, 0)
	changes, apart := track.SingleChanges(fig.PoseTracks(), n)
	if !apart {
		return false
	}
	film := float64(n) / fig.study.Rate * 24
	return changes >= 3 && float64(n-changes) >= math.Floor(blockedShare*float64(n)) && float64(changes) <= math.Ceil((1-blockedShare)*film)
}
