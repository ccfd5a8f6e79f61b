package passes

import (
	"math"
	"slices"

	"curvelint/diagnostics/motion/track"
)

// Quantity is one measure of a stroke or hold in both passes.
type Quantity struct {
	// Name is start, peak, arrival, leave, arrive, length, peak-speed, arc-depth,
	// travel, spacing-contrast, reversals, lag or breakdown of a stroke; drift or
	// length of a hold. Leave is how long a stroke takes from its start to nine
	// tenths of its peak speed, arrive from there to its end.
	Name string
	// Was and Became are in Unit: frame (a display frame of its own pass), frames
	// (of the later pass), figure or degrees or range, those a second, ratio,
	// count. Ratios of lengths are shares of the chord.
	Was, Became float64
	Unit        string
	// Moved is by how many frames of the later pass a time comes later; 0 for all
	// else.
	Moved float64
	// Changed is true when the difference is beyond noise.
	Changed bool
}

// limits are the differences below which nothing is said, each with its source.
const (
	// Less than three quarters of a frame is no frame.
	leastFrames = 0.75
	// A stroke of another shape seems to start or arrive a frame sooner or later:
	// a minimum-jerk move in the place of an even one does.
	reshapedFrames = 1.5
	// How long a stroke leaves and arrives is told in whole frames and moves with
	// its shape: two frames at 24, less the rounding.
	leastRamp = 1.5 / 24
	// The rest is common practice, no source, checked on the demo: what the polish
	// adds to a stroke that it leaves alone stays below.
	leastArc       = 0.03
	leastTravel    = 0.05
	leastContrast  = 0.15
	leastBreakdown = 0.08
	leastShareOf   = 0.15 // of a length or a speed
	leastLag       = 1.0  // frames
)

// units are those of a track's lengths.
func units(q track.Quality) string {
	return [...]string{track.Position: "figure", track.Rotation: "degrees", track.Value: "range"}[q]
}

// quantities compares two measured strokes. Own is their timing without what is
// said of the whole shot or beat.
func quantities(a, b *measured, own timing, k *clock) []Quantity {
	unit := units(b.track.Quality)
	whole := math.Abs(k.frames(own.shift())) >= leastFrames
	frame := func(name string, was, became, moved float64) Quantity {
		return Quantity{name, k.before.First + math.Round(2*k.indexBefore(was))/2, k.after.First + math.Round(2*k.indexAfter(became))/2,
			"frame", k.frames(moved), math.Abs(k.frames(moved)) >= leastFrames && (whole || math.Abs(k.frames(moved)) >= reshapedFrames)}
	}
	half := 0.5 / k.before.Rate // peaks lie between two frames: name the first
	halfAfter := 0.5 / k.after.Rate
	list := []Quantity{
		frame("start", a.start, b.start, own.start),
		frame("peak", a.peak-half, b.peak-halfAfter, own.middle),
		frame("arrival", a.arrival, b.arrival, own.arrival),
		{"leave", k.frames(a.leave), k.frames(b.leave), "frames", 0, rampDiffers(a.leave, b.leave, k)},
		{"arrive", k.frames(a.arrive), k.frames(b.arrive), "frames", 0, rampDiffers(a.arrive, b.arrive, k)},
		{"length", a.stroke.Length, b.stroke.Length, unit, 0,
			differs(a.stroke.Length, b.stroke.Length, minProminence*track.FloorSpeed(b.track.Quality))},
		{"peak-speed", a.stroke.PeakSpeed, b.stroke.PeakSpeed, unit + "/s", 0,
			differs(a.stroke.PeakSpeed, b.stroke.PeakSpeed, track.FloorSpeed(b.track.Quality))},
	}
	for _, q := range []struct {
		name        string
		was, became float64
		unit        string
		least       float64
	}{
		{"arc-depth", a.arcDepth, b.arcDepth, "ratio", leastArc},
		{"travel", a.travel, b.travel, "ratio", leastTravel},
		{"spacing-contrast", a.contrast, b.contrast, "ratio", leastContrast},
		{"breakdown", a.breakdown, b.breakdown, "ratio", leastBreakdown},
		{"reversals", a.reversals, b.reversals, "count", 1},
	} {
		d := math.Abs(q.became - q.was)
		list = append(list, Quantity{q.name, q.was, q.became, q.unit, 0, d >= q.least})
	}
	// What cannot be measured, or lies beyond all measure, is left out.
	return slices.DeleteFunc(list, func(q Quantity) bool { return !finite(q.Was) || !finite(q.Became) || !finite(q.Moved) })
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// rampDiffers reports whether the time to leave or to arrive became longer or shorter
// by what shows: frames at 24 a second, frames of the coarser pass, and a quarter of
// the longer one.
func rampDiffers(was, became float64, k *clock) bool {
	d := math.Abs(became - was)
	return d >= max(leastRamp, 1/min(k.before.Rate, k.after.Rate)) && d >= 0.25*max(was, became)
}

// differs reports whether two lengths differ by their share and by what is seen.
func differs(was, became, least float64) bool {
	d := math.Abs(became - was)
	return d >= least && d >= leastShareOf*max(was, became)
}

// weight says how large a change is against the least that is spoken of, 1 to 5.
func (q *Quantity) weight() float64 {
	least := map[string]float64{"arc-depth": leastArc, "travel": leastTravel, "spacing-contrast": leastContrast,
		"breakdown": leastBreakdown, "reversals": 1, "lag": leastLag, "start": 1, "peak": 1, "arrival": 1}[q.Name]
	d := math.Abs(q.Became - q.Was)
	if q.Unit == "frame" {
		d = math.Abs(q.Moved)
	}
	if least == 0 {
		least = leastShareOf * max(math.Abs(q.Was), math.Abs(q.Became))
	}
	if least == 0 {
		return 1
	}
	return min(5, max(1, d/least))
}
