package solve

import (
	"slices"

	"curvelint/parse/scene"
)

// rigid is the transform stack of a part that only turns and shifts, as almost
// all joints do. Its local transforms are evaluated as quaternions, which is
// several times cheaper than matrices and gives the turn of the part without
// taking it out of a matrix again.
type rigid struct {
	steps []rigidStep
}

// rigidStep is one turn or shift of a rigid stack.
type rigidStep struct {
	kind   rigidKind
	axis   int          // of a turn: 0, 1, 2
	value  []float64    // of what is static: an angle, x y z, w x y z
	inputs []rigidInput // of what is not
	turns  []rigidStep  // of an eulerStep
}

// rigidKind says what a step does and how many numbers it takes.
type rigidKind uint8

const (
	turnStep   rigidKind = iota // an angle about an axis
	shiftStep                   // x y z
	orientStep                  // w x y z
	eulerStep                   // three turns about three axes
)

// rigidInput is a curve that drives a component of a step, or all of an
// orientation.
type rigidInput struct {
	input
	component int // of the step
	offset    int // of that component in the curve's stride
}

// rigidPlan compiles a stack, or returns nil when it does more than turn and
// shift.
func rigidPlan(ops []opPlan) *rigid {
	r := &rigid{}
	for i := range ops {
		if !r.add(&ops[i]) {
			return nil
		}
	}
	r.gatherTurns()
	return r
}

// gatherTurns makes one step of the three turns of most joints, each about
// another axis and driven by a curve, where nothing turns before them.
func (r *rigid) gatherTurns() {
	at := slices.IndexFunc(r.steps, func(s rigidStep) bool { return s.kind != shiftStep })
	if at < 0 || at+3 > len(r.steps) {
		return
	}
	turns := r.steps[at : at+3]
	var axes [3]bool
	for i := range turns {
		if t := &turns[i]; t.kind != turnStep || len(t.inputs) != 1 || axes[t.axis] {
			return
		}
		axes[turns[i].axis] = true
	}
	r.steps = slices.Replace(r.steps, at, at+3, rigidStep{kind: eulerStep, turns: slices.Clone(turns)})
}

func (r *rigid) add(o *opPlan) bool {
	kind := o.op.Kind
	if o.op.Inverse && !(kind == scene.Translate && len(o.inputs) == 0) {
		return false
	}
	switch kind {
	case scene.Translate:
		v := o.value
		if o.op.Inverse {
			v = []float64{-v[0], -v[1], -v[2]}
		}
		r.steps = append(r.steps, rigidStep{kind: shiftStep, value: v, inputs: o.components(0, 3)})
	case scene.TranslateX, scene.TranslateY, scene.TranslateZ:
		v := make([]float64, 3)
		axis := int(kind - scene.TranslateX)
		v[axis] = o.value[0]
		in := o.components(0, 1)
		for k := range in {
			in[k].component = axis
		}
		r.steps = append(r.steps, rigidStep{kind: shiftStep, value: v, inputs: in})
	case scene.RotateX, scene.RotateY, scene.RotateZ:
		r.turn(o, int(kind-scene.RotateX), 0)
	case scene.RotateXYZ, scene.RotateXZY, scene.RotateYXZ, scene.RotateYZX, scene.RotateZXY, scene.RotateZYX:
		order := eulerOrder[kind-scene.RotateXYZ]
		for k := 2; k >= 0; k-- { // as in applyOp
			r.turn(o, order[k], order[k])
		}
	case scene.RotateAxis:
		axis, ok := mainAxis(o)
		if !ok {
			return false
		}
		r.turn(o, axis, 3)
	case scene.Orient:
		if len(o.inputs) > 1 || len(o.inputs) == 1 && o.inputs[0].curve.Stride != 4 {
			return false
		}
		r.steps = append(r.steps, rigidStep{kind: orientStep, value: o.value, inputs: o.components(0, 4)})
	case scene.Scale:
		return len(o.inputs) == 0 && o.value[0] == 1 && o.value[1] == 1 && o.value[2] == 1
	default:
		return false
	}
	return true
}

// turn adds a turn about an axis by one component of the op.
func (r *rigid) turn(o *opPlan, axis, component int) {
	r.steps = append(r.steps, rigidStep{kind: turnStep, axis: axis, value: o.value[component : component+1], inputs: o.components(component, 1)})
}

// mainAxis returns the axis of a turn about X, Y or Z that stays the same.
func mainAxis(o *opPlan) (axis int, ok bool) {
	for _, in := range o.inputs {
		if in.component < 3 {
			return 0, false
		}
	}
	for axis := range 3 {
		if o.value[axis] == 1 && o.value[(axis+1)%3] == 0 && o.value[(axis+2)%3] == 0 {
			return axis, true
		}
	}
	return 0, false
}

// components returns the inputs that drive components first to first+n-1 of an
// op, each for one component; a quaternion's as a whole.
func (o *opPlan) components(first, n int) []rigidInput {
	var out []rigidInput
	for _, in := range o.inputs {
		if n == 4 {
			out = append(out, rigidInput{input: in})
			continue
		}
		for j := range in.curve.Stride {
			if c := in.component + j - first; c >= 0 && c < n {
				out = append(out, rigidInput{input: in, component: c, offset: j})
			}
		}
	}
	return out
}
