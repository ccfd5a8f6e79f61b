package designed

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Kind says what a part is.
type Kind uint8

// The kinds of parts.
const (
	Node   Kind = iota // a transform
	Tip                // the end of a chain, which never moves by itself
	Camera             // looks down its own -Z with +Y up
	Weight             // a shape weight of its parent, 0 to 1
)

// Axes names the three components of a vector of signals.
const (
	X = iota
	Y
	Z
)

// Part is a node of a shot's hierarchy. Its transform is a move (Offset plus
// Move), then a turn (about X, then Y, then Z: Rz*Ry*Rx in column vectors), then
// a Size. A part with a Size must not have children.
type Part struct {
	Name   string
	Parent int // index into Shot.Parts, or -1
	Kind   Kind
	Offset r3.Vec // rest position in the parent
	Move   [3]Signal
	Turn   [3]Signal // degrees
	Size   [3]Signal // factors
	Value  Signal    // of a Weight
	Lens   *Lens     // of a Camera

	// Aim, where set, gives a point in the parent's frame that the part's +Z
	// looks at; Turn is then not used.
	Aim func(t float64) r3.Vec

	// Knots, where set, are the times in seconds at which an animator keyed a
	// component of Turn. Formats with splines write these keys and no others.
	Knots [3][]float64
}

// Lens is what a camera sees through: focal length and apertures in tenths of a
// centimetre.
type Lens struct{ Focal, Width, Height float64 }

// Figure names the parts of one body in a shot.
type Figure struct {
	Name string
	Root int // index into Shot.Parts
}

// Shot is a designed scene: parts in topological order, what holds its limbs,
// and the flaws planted in it.
type Shot struct {
	Name string
	Note string // one sentence on what the shot shows
	// Rate is the rate it was designed at, First the display frame of time 0
	// and Length the time of its last frame in seconds.
	Rate   float64
	First  int
	Length float64
	// Start is the time at which takes begin, which is not 0 in a cut of a shot.
	Start float64
	// MetersPerUnit is the length of one unit; Up is Y or Z, the axis that
	// points up after Place.
	MetersPerUnit float64
	Up            int

	Parts   []Part
	Limbs   []Limb
	Figures []Figure
	Focus   int // the camera of the shot, or -1
	Labels  []Label
	Jumps   []Jump
	Wraps   []Wrap

	place Placement
	// pace is how many times slower than designed everything goes; 0 is 1.
	pace float64
}

// NewShot returns an empty shot of the given length in seconds, in centimetres,
// Y up, at 24 frames per second from frame 1.
func NewShot(name string, seconds float64) *Shot {
	return &Shot{Name: name, Rate: 24, First: 1, Length: seconds, MetersPerUnit: 0.01, Up: Y, Focus: -1, place: asDesigned}
}

// Add appends a part below the part with index parent (-1: a root) and returns
// its index.
func (s *Shot) Add(parent int, p Part) int {
	if parent >= len(s.Parts) {
		panic(fmt.Sprintf("designed: part %q hangs below a part that does not exist yet", p.Name))
	}
	p.Parent = parent
	s.Parts = append(s.Parts, p)
	return len(s.Parts) - 1
}

// Path returns the part's names from the root down, each after a slash.
func (s *Shot) Path(part int) string {
	var names []string
	for p := part; p >= 0; p = s.Parts[p].Parent {
		names = append(names, s.Parts[p].Name)
	}
	var b strings.Builder
	for i := len(names) - 1; i >= 0; i-- {
		b.WriteByte('/')
		b.WriteString(names[i])
	}
	return b.String()
}

// Find returns the index of the part whose path ends in the given names
// ("/Tug/hips", "head/jaw", "jaw"), the first one; it panics when there is none,
// because shots are made by code.
func (s *Shot) Find(path string) int {
	want := "/" + strings.TrimPrefix(path, "/")
	for i := range s.Parts {
		if strings.HasSuffix(s.Path(i), want) {
			return i
		}
	}
	panic(fmt.Sprintf("designed: shot %q has no part %q", s.Name, path))
}

// Children returns for each part the indices of its children, in order.
func (s *Shot) Children() [][]int {
	out := make([][]int, len(s.Parts))
	for i := range s.Parts {
		if p := s.Parts[i].Parent; p >= 0 {
			out[p] = append(out[p], i)
		}
	}
	return out
}

// Roots returns the indices of the parts that hang below nothing.
func (s *Shot) Roots() []int {
	var out []int
	for i := range s.Parts {
		if s.Parts[i].Parent < 0 {
			out = append(out, i)
		}
	}
	return out
}

// Ease adds a signal to component c of a part's turn.
func (s *Shot) Ease(part, c int, add Signal) {
	p := &s.Parts[part]
	p.Turn[c] = Add(p.Turn[c], add)
}

// Shift adds a signal to component c of a part's move.
func (s *Shot) Shift(part, c int, add Signal) {
	p := &s.Parts[part]
	p.Move[c] = Add(p.Move[c], add)
}

// Frame is a place and a turn in space.
type Frame struct {
	At   r3.Vec
	Turn quat.Number
}

// origin is the frame of the world.
var origin = Frame{Turn: quat.Number{Real: 1}}

// Point returns where a point of the frame is outside it.
func (f Frame) Point(p r3.Vec) r3.Vec { return r3.Add(f.At, Rotate(f.Turn, p)) }

// In returns the frame as seen from outside when f is given inside up.
func (f Frame) In(up Frame) Frame {
	return Frame{At: up.Point(f.At), Turn: quat.Mul(up.Turn, f.Turn)}
}

// From returns the frame as seen from inside up; the inverse of In.
func (f Frame) From(up Frame) Frame {
	back := quat.Conj(up.Turn)
	return Frame{At: Rotate(back, r3.Sub(f.At, up.At)), Turn: quat.Mul(back, f.Turn)}
}
