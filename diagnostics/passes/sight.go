package passes

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// sight says how much of a motion an audience sees: through the camera in picture
// heights, else in figure sizes, weighed with the nearness to the focus.
type sight struct {
	before, after viewer
}

type viewer struct {
	study *motion.Study
	view  *motion.View
	reach map[scene.PartID]float64
	scale map[*motion.Figure]float64
}

func newSight(before, after *motion.Study) *sight {
	s := &sight{viewer{study: before, view: before.View()}, viewer{study: after, view: after.View()}}
	if s.before.view == nil || s.after.view == nil {
		s.before.view, s.after.view = nil, nil // one measure for both
	}
	s.before.measureReach()
	s.after.measureReach()
	return s
}

// measureReach finds how far from each part the farthest tracked point below it
// is in the first frame, in figure sizes: what a turn of the part moves.
func (v *viewer) measureReach() {
	s := v.study
	v.reach, v.scale = map[scene.PartID]float64{}, map[*motion.Figure]float64{}
	if s.N == 0 {
		return
	}
	for _, fig := range s.Figures() {
		for i := range fig.Points {
			m := s.WorldAt(fig.Points[i].Part, s.First)
			at := m.Point(fig.Points[i].Offset)
			for p := fig.Points[i].Part; p != scene.NoPart && s.FigureOf(p) == fig; p = s.Scene.Parts[p].Parent {
				v.reach[p] = max(v.reach[p], r3.Norm(r3.Sub(at, s.WorldPosition(p, s.First)))/fig.Size)
			}
		}
		v.scale[fig] = v.pictured(fig)
	}
}

// pictured is how many picture heights a figure size is in the middle of the clip;
// 1 without a picture.
func (v *viewer) pictured(fig *motion.Figure) float64 {
	if v.view == nil {
		return 1
	}
	t := v.study.Frame(v.study.N / 2)
	eye := v.view.At(t)
	root := v.study.WorldPosition(fig.Root, t)
	x, y, _, ok := eye.Project(root)
	u, w, _, also := eye.Project(r3.Add(root, r3.Scale(fig.Size, fig.Up())))
	if !ok || !also {
		return 0.1 // behind the camera: little of it is seen
	}
	return math.Hypot(u-x, w-y)
}

// leastReach is that of a part without a bone, and of a weight's whole range: a
// face's, in figure sizes.
const leastReach = 0.02

// travel is how far an audience sees a part move in a stroke.
func (v *viewer) travel(fig *motion.Figure, part scene.PartID, point int, t *track.Track, s track.Stroke) float64 {
	if fig == nil {
		return 0
	}
	if point >= 0 && v.view != nil {
		return v.view.ScreenTrack(fig, point).PathLength(s.First, s.Last) * fig.Nearness(part)
	}
	reach := max(v.reach[part], leastReach)
	n := s.Length
	switch t.Quality {
	case track.Rotation:
		n *= reach * math.Pi / 180
	case track.Value:
		n *= leastReach
	}
	return n * v.scale[fig] * fig.Nearness(part)
}

// ofPair is how far a stroke is seen to move, in the pass where it moves farther.
func (s *sight) ofPair(p *trackPair, a, b *measured) float64 {
	n := 0.0
	if a != nil {
		n = s.before.travel(p.figBefore, p.partBefore, -1, a.track, a.stroke)
	}
	if b != nil {
		n = max(n, s.after.travel(p.fig, p.part, p.point, b.track, b.stroke))
	}
	return n
}

// difference returns how far a pair's pose is from that of the earlier pass: on
// average and at most, between two times, and when it is most. Places count, not
// only paths: what stands elsewhere all along is different. Sizes are as in
// travel, without nearness.
func (s *sight) difference(p *trackPair, k *clock, first, last float64) (mean, most, when float64) {
	if p.turned || p.fig == nil {
		return 0, 0, first
	}
	scale := s.after.scale[p.fig] * s.after.factor(p)
	shift := r3.Vec{}
	if p.motion == Path && p.before != nil && p.after != nil && p.before.Unit > 0 && p.after.Unit > 0 {
		shift = r3.Sub(r3.Scale(1/p.after.Unit, place3(p.after)), r3.Scale(1/p.before.Unit, place3(p.before)))
	}
	n := 0
	k.each(first, last, func(b, a float64) bool {
		d := r3.Norm(r3.Add(shift, r3.Sub(sample(p.after, a), sample(p.before, b))))
		if d <= p.tolerance() {
			d = 0
		}
		d *= scale
		mean += d
		n++
		if d > most {
			most, when = d, k.timeBefore(b)
		}
		return true
	})
	if n > 0 {
		mean /= float64(n)
	}
	if !finite(mean) || !finite(most) {
		return 0, 0, first
	}
	return mean, most, when
}

func place3(t *track.Track) r3.Vec { return r3.Vec{X: t.Origin[0], Y: t.Origin[1], Z: t.Origin[2]} }

// factor turns a pair's unit into figure sizes.
func (v *viewer) factor(p *trackPair) float64 {
	switch p.motion {
	case Turn:
		return max(v.reach[p.part], leastReach) * math.Pi / 180
	case Value:
		return leastReach
	}
	return 1
}
