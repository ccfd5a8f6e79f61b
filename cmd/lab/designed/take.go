package designed

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Take is a shot evaluated at whole frames of one rate.
type Take struct {
	Shot  *Shot
	Rate  float64
	First int // display frame of the first column
	N     int // number of frames
	Rows  []Row
	// MoreDigits is how many decimals more than usual the take deserves.
	MoreDigits int
}

// Row is one part's local motion: one element a frame in every column. Columns
// of what a part does not have are nil.
type Row struct {
	Move  []r3.Vec
	Turn  []quat.Number
	Size  []r3.Vec  // only where the part has a Size
	Value []float64 // only for a Weight

	Moves, Turns bool // whether the column changes
}

// Time returns the time of column i in seconds from the first.
func (t *Take) Time(i int) float64 { return float64(i) / t.Rate }

// Frame returns the display frame of column i.
func (t *Take) Frame(i int) int { return t.First + i }

// Take evaluates the shot at a rate in frames per second.
func (s *Shot) Take(rate float64) *Take { return s.TakeBetween(rate, 1) }

// TakeBetween evaluates the shot per times as often as frames come at a rate, to
// look between the frames. A jump of one frame rises from the frame before and
// falls to the one after in straight lines.
func (s *Shot) TakeBetween(rate float64, per int) *Take {
	rate *= float64(per)
	n := int(math.Floor(s.Length*rate+1e-6)) + 1
	take := &Take{Shot: s, Rate: rate, First: s.First, N: n, Rows: make([]Row, len(s.Parts))}
	for i := range take.Rows {
		take.Rows[i].allocate(&s.Parts[i], n)
	}
	var p pose
	for f := range n {
		at := (s.Start + take.Time(f)) / s.slowed()
		s.solveInto(&p, at)
		for i := range take.Rows {
			take.Rows[i].put(f, &s.Parts[i], &p, i, at)
		}
	}
	take.jump(per)
	s.place.apply(take)
	for i := range take.Rows {
		take.Rows[i].settle()
	}
	return take
}

func (r *Row) allocate(p *Part, n int) {
	if p.Kind == Weight {
		r.Value = make([]float64, n)
		return
	}
	r.Move = make([]r3.Vec, n)
	r.Turn = make([]quat.Number, n)
	if sized(p) {
		r.Size = make([]r3.Vec, n)
	}
}

func sized(p *Part) bool { return p.Size[X] != nil || p.Size[Y] != nil || p.Size[Z] != nil }

func (r *Row) put(f int, part *Part, p *pose, i int, t float64) {
	if r.Value != nil {
		r.Value[f] = part.Value.At(t, 0)
		return
	}
	r.Move[f], r.Turn[f] = p.local[i].At, p.local[i].Turn
	if r.Size != nil {
		r.Size[f] = r3.Vec{X: part.Size[X].At(t, 1), Y: part.Size[Y].At(t, 1), Z: part.Size[Z].At(t, 1)}
	}
}

// settle finds out which columns change and keeps quaternions on one side.
func (r *Row) settle() {
	for f := 1; f < len(r.Turn); f++ {
		if dot(r.Turn[f], r.Turn[f-1]) < 0 {
			r.Turn[f] = quat.Scale(-1, r.Turn[f])
		}
		r.Moves = r.Moves || r3.Norm(r3.Sub(r.Move[f], r.Move[0])) > 1e-9*(1+r3.Norm(r.Move[0]))
		r.Turns = r.Turns || quat.Abs(quat.Sub(r.Turn[f], r.Turn[0])) > 1e-9
	}
}

func dot(a, b quat.Number) float64 {
	return a.Real*b.Real + a.Imag*b.Imag + a.Jmag*b.Jmag + a.Kmag*b.Kmag
}

// Angles returns a part's turn as angles in degrees, by axis, in the given order
// of multiplication, without jumps except those of the shot's Wraps when wrapped
// is true.
func (t *Take) Angles(part int, o Order, wrapped bool) [][3]float64 {
	out := make([][3]float64, t.N)
	var near [3]float64
	for f, q := range t.Rows[part].Turn {
		near = Angles(q, o, near)
		out[f] = near
	}
	if wrapped {
		for _, w := range t.Shot.Wraps {
			if w.Part == part {
				w.apply(t, out)
			}
		}
	}
	return out
}

// World returns the frames of a part in the world, one a column.
func (t *Take) World(part int) []Frame {
	out := make([]Frame, t.N)
	for f := range out {
		w := origin
		for p := part; p >= 0; p = t.Shot.Parts[p].Parent {
			w = w.In(Frame{At: t.Rows[p].Move[f], Turn: t.Rows[p].Turn[f]})
		}
		out[f] = w
	}
	return out
}

// pose is a shot at one time.
type pose struct {
	local, world []Frame
}

// solve evaluates the shot at time t, before it is placed.
func (s *Shot) solve(t float64) *pose {
	var p pose
	s.solveInto(&p, t)
	return &p
}

func (s *Shot) solveInto(p *pose, t float64) {
	if len(p.local) != len(s.Parts) {
		p.local = make([]Frame, len(s.Parts))
		p.world = make([]Frame, len(s.Parts))
	}
	for i := range s.Parts {
		p.local[i] = s.Parts[i].at(t)
	}
	next := 0
	for i := range s.Parts {
		for next < len(s.Limbs) && s.Limbs[next].Upper == i {
			s.Limbs[next].solve(s, p, t)
			next++
		}
		p.carry(s, i)
	}
	if next < len(s.Limbs) {
		panic("designed: limbs must stand in the order of their upper parts")
	}
}

// carry finds the world frame of part i, whose parent's is known.
func (p *pose) carry(s *Shot, i int) {
	up := origin
	if parent := s.Parts[i].Parent; parent >= 0 {
		up = p.world[parent]
	}
	p.world[i] = p.local[i].In(up)
}

// turn replaces a part's local turn.
func (p *pose) turn(s *Shot, i int, q quat.Number) { p.local[i].Turn = q }

// at evaluates a part's own signals.
func (p *Part) at(t float64) Frame {
	if p.Kind == Weight {
		return origin
	}
	f := Frame{At: r3.Add(p.Offset, r3.Vec{X: p.Move[X].At(t, 0), Y: p.Move[Y].At(t, 0), Z: p.Move[Z].At(t, 0)})}
	if p.Aim != nil {
		along, side := basis(r3.Sub(p.Aim(t), f.At), r3.Vec{Y: 1})
		f.Turn = fromBasis(r3.Cross(side, along), side, along)
		return f
	}
	f.Turn = Turned([3]float64{p.Turn[X].At(t, 0), p.Turn[Y].At(t, 0), p.Turn[Z].At(t, 0)})
	return f
}

// Decimals is how many decimals a length of the take deserves in text: four for
// a figure designed in centimetres, fewer when it was made larger.
func (t *Take) Decimals() int {
	return max(0, min(9, 4-int(math.Round(math.Log10(t.Shot.place.Scale))))) + t.MoreDigits
}

// AngleDecimals is how many decimals an angle in degrees deserves.
func (t *Take) AngleDecimals() int { return 4 + t.MoreDigits }

// Rest returns a part's local transform at rest: its offset, and for a root
// where the shot was placed.
func (t *Take) Rest(part int) Frame {
	s := t.Shot
	f := Frame{At: r3.Scale(s.place.Scale, s.Parts[part].Offset), Turn: quat.Number{Real: 1}}
	if s.Parts[part].Parent < 0 {
		f = Frame{At: r3.Add(Rotate(s.place.Turn, f.At), s.place.Offset), Turn: s.place.Turn}
	}
	return f
}
