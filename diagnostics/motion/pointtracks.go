package motion

import (
	"slices"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// pointJob is one tracked point to be solved.
type pointJob struct {
	fig     *Figure
	pt      body.Point
	tracks  [2]*track.Track // in the world, and relative to the carrier or nil
	kept    bool            // the tracks are those of an earlier study
	patched bool            // the columns outside the changed frames are already there
}

// solvePoints walks the hierarchy once and records every tracked point. After
// an edit it takes over the points that the edit cannot have moved and solves
// the others only where it may have.
func (s *Study) solvePoints() {
	world := map[trackKey]*track.Track{}
	same := s.earlier != nil && s.earlier.world != nil && s.sameSizes()
	var jobs []*pointJob
	for _, fig := range s.Figures() {
		for i, pt := range fig.Points {
			j := s.pointJob(fig, i, pt, same)
			for k, t := range j.tracks {
				if t != nil {
					world[trackKey{scene.PartID(fig.Index), scene.ChannelID(i), trackKind(k)}] = t
				}
			}
			jobs = append(jobs, j)
		}
	}
	jobs = slices.DeleteFunc(jobs, func(j *pointJob) bool { return j.kept })
	from, to := 0, s.N-1
	if len(jobs) > 0 && jobs[0].patched {
		from, to = s.earlier.from, s.earlier.to
	}
	s.runJobs(jobs, from, to)
	for _, j := range jobs {
		for _, t := range j.tracks {
			switch {
			case t == nil:
			case j.patched:
				t.SettleRange(from, to)
			default:
				t.Settle()
			}
		}
	}
	s.worldMu.Lock()
	s.world = world
	s.worldMu.Unlock()
}

// untouched reports whether neither the point's chain nor its carrier changed.
func (s *Study) untouched(j *pointJob) bool {
	return s.earlier.sameChain(s, j.pt.Part) && (j.fig.Carrier == scene.NoPart || s.earlier.sameChain(s, j.fig.Carrier))
}

// pointJob makes the tracks of one point: empty ones, or with the columns of an
// earlier study where those still hold.
func (s *Study) pointJob(fig *Figure, i int, pt body.Point, same bool) *pointJob {
	j := &pointJob{fig: fig, pt: pt}
	kinds := 1
	if fig.Carrier != scene.NoPart {
		kinds = 2
	}
	j.kept = same && s.untouched(j)
	// The first frame is the tracks' origin: a change there moves everything.
	j.patched = same && !j.kept && s.earlier.from > 0
	for k := range kinds {
		var old *track.Track
		if same {
			old = s.earlier.world[trackKey{scene.PartID(fig.Index), scene.ChannelID(i), trackKind(k)}]
		}
		if j.kept {
			j.tracks[k] = old
			continue
		}
		t := s.pointShell(fig, pt, track.World)
		if k == 1 {
			t.Carrier = fig.Carrier
			// The carrier's own scale must not change what a figure size is.
			m := s.WorldAt(fig.Carrier, s.First)
			if k := m.Scale(); k > 0 {
				t.Unit /= k
			}
		}
		if j.patched {
			copy(t.X, old.X)
			copy(t.Y, old.Y)
			copy(t.Z, old.Z)
			t.Origin = old.Origin
		}
		j.tracks[k] = t
	}
	return j
}

// runJobs solves the frames from to to for the jobs' points.
func (s *Study) runJobs(jobs []*pointJob, from, to int) {
	var need []scene.PartID
	for _, j := range jobs {
		need = append(need, j.pt.Part)
		if j.fig.Carrier != scene.NoPart {
			need = append(need, j.fig.Carrier)
		}
	}
	v := s.NewSolver(need, to-from+1)
	done := s.recordTurns(v)
	defer done()
	at, carried := sortJobs(jobs, len(s.Scene.Parts))
	pinned := make([]bool, len(s.Scene.Parts))
	for _, j := range carried {
		pinned[j.pt.Part], pinned[j.fig.Carrier] = true, true
	}
	v.KeepOnly(pinned)
	inverses := map[scene.PartID][]solve.Affine{}
	for a := from; a <= to; a += solve.BlockFrames {
		v.Walk(a, min(solve.BlockFrames, to+1-a), func(p scene.PartID) {
			for _, j := range at[p] {
				j.record(a, v.World(p), nil)
			}
		})
		clear(inverses)
		for _, j := range carried {
			j.record(a, v.World(j.pt.Part), inversesOf(inverses, v, j.fig.Carrier))
		}
	}
}

// sortJobs returns the jobs by part, and apart from them those that need a
// carrier as well.
func sortJobs(jobs []*pointJob, parts int) (at [][]*pointJob, carried []*pointJob) {
	at = make([][]*pointJob, parts)
	for _, j := range jobs {
		if j.fig.Carrier != scene.NoPart {
			carried = append(carried, j)
		} else {
			at[j.pt.Part] = append(at[j.pt.Part], j)
		}
	}
	return at, carried
}

// record takes the point from a block of transforms of its part from frame index
// start, and of what carries it back where something does.
func (j *pointJob) record(start int, worlds, back []solve.Affine) {
	for f := range worlds {
		p := worlds[f].Point(j.pt.Offset)
		j.tracks[0].Put(start+f, p)
		if back != nil {
			j.tracks[1].Put(start+f, back[f].Point(p))
		}
	}
}

// recordTurns has a solver that goes through all frames make the rotation tracks
// of the parts it solves, since their turns are at hand there. Done is to be
// called behind the last frame.
func (s *Study) recordTurns(v *solve.Solver) (done func()) {
	if s.earlier != nil {
		return func() {} // after an edit few parts are solved, and not all frames
	}
	turns := make([]*solve.TurnRecorder, len(s.Scene.Parts))
	tracks := make([]*track.Track, len(s.Scene.Parts))
	for i := range s.Scene.Parts {
		if p := scene.PartID(i); v.Needs(p) && s.Turns(p) {
			tracks[p], turns[p] = s.rotationShell(p)
		}
	}
	v.Record(turns)
	return func() {
		for p, t := range tracks {
			if t != nil {
				s.tracks.get(trackKey{scene.PartID(p), scene.NoChannel, localRotation}, func() *track.Track { return t })
			}
		}
	}
}

// inversesOf inverts a carrier's transforms of the block solved last, once.
func inversesOf(done map[scene.PartID][]solve.Affine, v *solve.Solver, carrier scene.PartID) []solve.Affine {
	if inv := done[carrier]; inv != nil {
		return inv
	}
	worlds := v.World(carrier)
	inv := make([]solve.Affine, len(worlds))
	for f := range inv {
		inv[f] = worlds[f].Inverse()
	}
	done[carrier] = inv
	return inv
}
