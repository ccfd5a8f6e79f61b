package motion

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// Study is the motion of one scene over its whole frames. It may be shared by
// concurrent readers.
type Study struct {
	*solve.Hierarchy
	Options Options

	natures []Nature // by part

	cast        *body.Cast
	figuresOnce sync.Once
	figures     []*Figure

	tracks memo[trackKey, *track.Track]

	worldOnce sync.Once // all tracked points in one pass
	worldMu   sync.Mutex
	world     map[trackKey]*track.Track

	earlier *memory // of an earlier version of the scene, or nil
}

// trackKey names a track for the memo.
type trackKey struct {
	part    scene.PartID
	channel scene.ChannelID
	kind    trackKind
}

// New studies a scene. It computes little that is not asked for.
func New(sc *scene.Scene, o Options) *Study {
	s := &Study{Hierarchy: solve.New(sc), Options: o, natures: make([]Nature, len(sc.Parts))}
	s.cast = body.NewCast(s.Hierarchy, body.Rules{
		Groups: o.Groups, Figures: o.Figures, Points: o.Points, Chains: o.Chains, Carriers: s.applyRules(),
	})
	return s
}

// applyRules notes for each part how it is judged, and returns what carries it, or
// NoPart; later rules win, and a rule for a part holds for what hangs below it.
func (s *Study) applyRules() (carriers []scene.PartID) {
	carriers = make([]scene.PartID, len(s.Scene.Parts))
	for i := range s.Scene.Parts {
		p := &s.Scene.Parts[i]
		carriers[i] = scene.NoPart
		if p.Parent != scene.NoPart {
			s.natures[i], carriers[i] = s.natures[p.Parent], carriers[p.Parent]
		}
		for _, r := range s.Options.Parts {
			if !r.Match(p.Path) {
				continue
			}
			if r.Nature != Living {
				s.natures[i] = r.Nature
			}
			if r.Carrier != "" {
				carriers[i] = s.Scene.Find(r.Carrier)
			}
		}
	}
	return carriers
}

// Up is the scene's up direction, of length 1.
func (s *Study) Up() r3.Vec { return s.cast.Up() }

// Judged reports whether a finding over frame indices a to b may be noted: it is
// clear of the handles. The configured range does not count here: what lies outside
// it may still be the cause of what lies inside, so that notes are left out by it
// only when those with one cause have become one.
func (s *Study) Judged(a, b int) bool {
	return a >= s.Options.Handles && b <= s.N-1-s.Options.Handles
}

// JudgedRange returns the first and last index that is judged; last < first
// when nothing is.
func (s *Study) JudgedRange() (first, last int) {
	first, last = s.Options.Handles, s.N-1-s.Options.Handles
	if s.Options.HasRange {
		first = max(first, int(math.Ceil(s.Options.First-s.First-1e-6)))
		last = min(last, int(math.Floor(s.Options.Last-s.First+1e-6)))
	}
	return first, last
}

// NatureOf says how a part is judged. Cameras and lights are mechanical.
func (s *Study) NatureOf(p scene.PartID) Nature {
	switch s.Scene.Parts[p].Kind {
	case scene.CameraPart, scene.LightPart:
		return Mechanical
	}
	return s.natures[p]
}
