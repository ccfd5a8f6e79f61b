package motion

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// Study is the motion of one scene over its whole frames.
type Study struct {
	Scene   *scene.Scene
	Options Options
	Rate    float64
	// First is the display frame of index 0 and N the number of whole frames.
	First float64
	N     int

	plans    []partPlan
	children [][]scene.PartID
	channels [][]scene.ChannelID // by part
	animated []bool              // by part: it or something below it changes
	natures  []Nature
	carriers []scene.PartID // by part: as configured, else NoPart

	figuresOnce sync.Once
	figures     []*Figure
	figureOf    []int32 // by part: index into figures or -1

	noise  memo[scene.ChannelID, float64]
	tracks memo[trackKey, *Track]

	worldOnce sync.Once // all tracked points in one pass
	worldMu   sync.Mutex
	world     map[trackKey]*Track

	before *memory // of an earlier version of the scene, or nil

	upOnce sync.Once
	upAxis r3.Vec
}

// trackKey names a track for the memo.
type trackKey struct {
	part    scene.PartID
	channel scene.ChannelID
	kind    trackKind
}

// New studies a scene. It computes little that is not asked for.
func New(sc *scene.Scene, o Options) *Study {
	s := &Study{Scene: sc, Options: o, Rate: sc.Rate}
	if s.Rate <= 0 || math.IsNaN(s.Rate) || math.IsInf(s.Rate, 0) {
		s.Rate = 24
	}
	if n := sc.Last - sc.First; n >= 0 && n < maxFrames {
		s.First = math.Ceil(sc.First - 1e-6)
		s.N = int(math.Floor(sc.Last+1e-6)-s.First) + 1
	}
	s.plans = s.plan()
	s.children = sc.Children()
	s.channels = make([][]scene.ChannelID, len(sc.Parts))
	s.animated = make([]bool, len(sc.Parts))
	for id := range sc.Channels {
		p := sc.Channels[id].Part
		s.channels[p] = append(s.channels[p], scene.ChannelID(id))
		if c := &sc.Channels[id].Curve; c.Len() > 0 && !constant(c) {
			s.animated[p] = true
		}
	}
	for p := len(sc.Parts) - 1; p > 0; p-- {
		if up := sc.Parts[p].Parent; up != scene.NoPart && s.animated[p] {
			s.animated[up] = true
		}
	}
	s.applyRules()
	return s
}

// maxFrames bounds a study: no shot is longer, and a file may claim anything.
const maxFrames = 10_000_000

// applyRules notes for each part how it is judged and what carries it; later
// rules win, and a rule for a part holds for what hangs below it.
func (s *Study) applyRules() {
	s.natures = make([]Nature, len(s.Scene.Parts))
	s.carriers = make([]scene.PartID, len(s.Scene.Parts))
	for i := range s.Scene.Parts {
		p := &s.Scene.Parts[i]
		s.carriers[i] = scene.NoPart
		if p.Parent != scene.NoPart {
			s.natures[i], s.carriers[i] = s.natures[p.Parent], s.carriers[p.Parent]
		}
		for _, r := range s.Options.Parts {
			if !r.Match(p.Path) {
				continue
			}
			if r.Nature != Living {
				s.natures[i] = r.Nature
			}
			if r.Carrier != "" {
				s.carriers[i] = s.Scene.Find(r.Carrier)
			}
		}
	}
}

// Frame returns the display frame of index i.
func (s *Study) Frame(i int) float64 { return s.First + float64(i) }

// Index returns the index of the last whole frame at or before display frame t,
// kept within the study.
func (s *Study) Index(t float64) int {
	return min(max(int(math.Floor(t-s.First+1e-6)), 0), max(s.N-1, 0))
}

// Window returns the number of frames nearest to the given time, at least one.
func (s *Study) Window(seconds float64) int { return Window(s.Rate, seconds) }

// Window returns the number of frames at rate nearest to the given time in
// seconds, at least one.
func Window(rate, seconds float64) int {
	return max(1, int(math.Round(rate*seconds)))
}

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

// Animated reports whether anything about the part or below it changes.
func (s *Study) Animated(p scene.PartID) bool { return s.animated[p] }

// Moves reports whether the part's own transform changes.
func (s *Study) Moves(p scene.PartID) bool { return s.plans[p].animated }

// Children returns the children of a part; callers must not write to it.
func (s *Study) Children(p scene.PartID) []scene.PartID { return s.children[p] }

// Channels returns the channels of a part; callers must not write to it.
func (s *Study) Channels(p scene.PartID) []scene.ChannelID { return s.channels[p] }

// IsAncestor reports whether a is p or stands above p.
func (s *Study) IsAncestor(a, p scene.PartID) bool {
	for ; p != scene.NoPart && p >= a; p = s.Scene.Parts[p].Parent {
		if p == a {
			return true
		}
	}
	return false
}
