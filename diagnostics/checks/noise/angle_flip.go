package noise

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed angle_flip.md
var angleFlipDoc string

// The settings of angle-flip.
var (
	angleFlipDetour = kit.Number{Name: "detour", Unit: "degrees", Default: 20, Min: 1, Max: 180, Doc: "how far half-way between two frames leaves the short arc between them"}
)

// The limits of angle-flip.
var (
	angleFlipFar = kit.Limit{Name: "far", Value: 90, Unit: "degrees",
		Doc:    "angles of neighbouring keys that differ by less cannot run the long way round",
		Source: "common practice, no source: half of a half turn, since three angles make one turn together"}
	angleFlipOneFrame = kit.Limit{Name: "one_frame", Value: 1 + 1e-6, Unit: "frames",
		Doc:    "keys further apart are turned on purpose, the long way round or not",
		Source: "rounding of times in seconds"}
)

// AngleFlip finds rotations that run the long way round between two keys.
var AngleFlip = &kit.Check{
	ID:       "angle-flip",
	Severity: note.Warning,
	Group:    kit.Noise,
	Title:    "the long way round",
	Doc:      angleFlipDoc,
	Settings: []kit.Setting{&angleFlipDetour},
	Limits:   []*kit.Limit{&angleFlipFar, &angleFlipOneFrame},
	Run:      runAngleFlip,
}

func runAngleFlip(c *kit.Context) []note.Note {
	s := c.Study
	if s.Scene.Format == "bvh" {
		return nil // its frames are shown as they are: nothing lies between
	}
	var notes []note.Note
	for p := range s.Scene.Parts {
		if c.Ctx.Err() != nil {
			return nil
		}
		id := scene.PartID(p)
		t := s.RotationTrack(id)
		if t == nil || s.NatureOf(id) != motion.Living {
			continue
		}
		notes = append(notes, flips(c, id)...)
	}
	return notes
}

// flips looks at the steps in which some angle of the part jumps by more than
// a half turn, which is where a wrap or a sign change can hide.
func flips(c *kit.Context, p scene.PartID) []note.Note {
	s := c.Study
	var notes []note.Note
	seen := map[int]bool{}
	for _, id := range s.Channels(p) {
		x := &s.Scene.Channels[id]
		if x.Quantity != scene.Angle && x.Quantity != scene.Quaternion && x.Quantity != scene.Transform {
			continue
		}
		k := &x.Curve
		for i := 0; i+1 < k.Len(); i++ {
			if !suspicious(x, i) {
				continue
			}
			f := s.Index(k.Times[i])
			// A key interval of several frames turned on purpose is legal.
			if seen[f] || k.Times[i+1]-k.Times[i] > angleFlipOneFrame.Value || !s.Judged(f, f+1) {
				continue
			}
			if d := detour(c, p, k.Times[i], k.Times[i+1]); d > angleFlipDetour.In(c) {
				seen[f] = true
				notes = append(notes, flipNote(c, p, id, f, d))
			}
		}
	}
	return notes
}

// suspicious reports whether the values of key i and i+1 are so far apart that
// the way between them may be the long one.
func suspicious(x *scene.Channel, i int) bool {
	var a, b [16]float64 // the widest rows, of matrices
	x.Curve.Row(i, a[:])
	x.Curve.Row(i+1, b[:])
	switch x.Quantity {
	case scene.Angle:
		return math.Abs(b[0]-a[0]) > angleFlipFar.Value
	case scene.Quaternion:
		// Linear keys take the short way by the formats' rules; component-wise
		// cubics do not.
		return x.Curve.Handles != nil && a[0]*b[0]+a[1]*b[1]+a[2]*b[2]+a[3]*b[3] < 0
	}
	return a[0]*b[0]+a[1]*b[1]+a[2]*b[2] < 0
}

// detour is the angle in degrees by which the pose half-way between two times
// leaves the short arc between the poses at both.
func detour(c *kit.Context, p scene.PartID, t0, t1 float64) float64 {
	s := c.Study
	a, m, b := s.LocalAt(p, t0), s.LocalAt(p, (t0+t1)/2), s.LocalAt(p, t1)
	whole := a.AngleTo(&b)
	// On the short arc, half-way is half the angle from both ends.
	return math.Max(a.AngleTo(&m), b.AngleTo(&m)) - whole/2
}

func flipNote(c *kit.Context, p scene.PartID, id scene.ChannelID, f int, d float64) note.Note {
	s := c.Study
	n := c.Draft(p, id, f, f+1)
	n.Message = fmt.Sprintf("%s: %s the long way round between these frames, %.0f degrees off the short way; unwrap %s",
		c.Span(f, f+1), c.Says(p, "turns"), d, s.Scene.Channels[id].Name)
	n.Measures = []note.Measure{{Name: "detour", Value: d, Unit: "degrees"}}
	if fig := s.FigureOf(p); fig != nil {
		n.Weight = c.Weigh(fig, p, 0.5)
	}
	n.Causes = append(n.Causes, p)
	return n
}
