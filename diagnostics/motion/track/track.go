package track

import (
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// Quality says what a track measures, and so its unit and its thresholds.
type Quality uint8

// The qualities of tracks.
const (
	Position Quality = iota // figure sizes
	Rotation                // degrees
	Value                   // shares of the channel's range over the clip
)

// Space says what a track is seen from.
type Space uint8

// The spaces of tracks.
const (
	World  Space = iota // the scene, or the carrier where one is configured
	Local               // the part's parent
	Screen              // the picture, in picture heights
)

// Track is the path of one point, rotation or value over the whole frames of a
// clip, in units free of scale: figure sizes, degrees or shares of range.
//
// X, Y and Z have one element a frame. A position track is relative to its own
// first frame, so that a figure far from the origin loses no digits. The path
// of a rotation is the running sum of the rotation vectors (degrees, in the
// parent's frame) from each frame to the next; for a turn about one axis that
// is the angle along the axis. A value track uses X alone.
//
// Everything derived is computed once, on first use; a Track may be read by
// several goroutines. Callers must not write to its columns.
type Track struct {
	Name    string // "head", "left hand", a channel's name for a value
	Part    scene.PartID
	Channel scene.ChannelID // for value tracks; else scene.NoChannel
	Quality Quality
	Space   Space
	X, Y, Z []float64
	// Rate is in frames per second.
	Rate float64
	// Noise is the amplitude below which the path is not known (in the
	// track's unit): change below twice of it is no motion, spacing below
	// twenty times of it cannot be called even.
	Noise float64
	// Origin is the raw position at the first frame and Unit the raw length
	// of one unit, so that raw = Origin + Unit * (X, Y, Z).
	Origin [3]float64
	Unit   float64
	// Offset is the tracked point in the frame of Part, for position tracks in
	// world space; Carrier is what the path is relative to, or scene.NoPart.
	Offset  r3.Vec
	Carrier scene.PartID
	// GivenStep is 1 or 2 for motion known to be on ones or twos; 0 lets
	// Stepping find out.
	GivenStep int

	moved        atomic.Pointer[stepSet] // in which it moves, once asked for
	steppingOnce sync.Once
	stepping     int
	spacing      atomic.Pointer[[]float64] // Spacing and Speed, once asked for
	speed        atomic.Pointer[[]float64]
	limitsOnce   sync.Once
	limits       MotionLimits
	cutOnce      sync.Once
	rests        []Rest
	holds        []Rest
	strokes      []Stroke
	hitches      []Hitch
	eventsOnce   sync.Once
	events       []Event
	kept         keeper
}

// Rest is a stretch of frames without motion; First and Last are frame indices,
// both included.
type Rest struct {
	First, Last int
	// Hold is true when the rest lasts at least HoldSeconds.
	Hold bool
}

// Stroke is a stretch of motion between two rests or local speed minima.
// First and Last are frame indices: its first and last positions, so that it
// has Last-First spacings.
type Stroke struct {
	First, Last int
	// Peak is the index i of the largest speed: the spacing from frame i to
	// i+1 (its middle is at i+0.5).
	Peak      int
	PeakSpeed float64 // unit/s
	MeanSpeed float64 // unit/s: Length / duration
	Length    float64 // of the path, in the track's unit
	Chord     float64 // straight distance from first to last position
	// FromRest and ToRest say that the stroke borders on a rest (or the end of
	// the clip) rather than on another stroke.
	FromRest, ToRest bool
	// EaseIn is the time in seconds from the start to where the speed first
	// reaches 90 % of its peak, EaseOut from where it last does to the end.
	EaseIn, EaseOut float64
}

// EventKind names what happens at an event.
type EventKind uint8

// The events of evaluated motion.
const (
	Start EventKind = iota // a rest ends
	Stop                   // a rest begins
	Turn                   // successive velocities are more than 90 degrees apart
)

// Event is a change in a track at a frame index.
type Event struct {
	Kind  EventKind
	Frame int
}
