package body

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// Centre returns the body's centre at the frame indices a to b-1 in figure
// sizes, relative to what carries the figure: a person's centre of mass, and of
// other bodies the mean of the torso and limb joints, without fingers and face.
func (fig *Anatomy) Centre(a, b int) []r3.Vec {
	s := fig.cast
	joints, masses := fig.jointMasses()
	out := make([]r3.Vec, b-a)
	if len(joints) == 0 {
		return out
	}
	need := joints
	if fig.Carrier != scene.NoPart {
		need = append(need[:len(need):len(need)], fig.Carrier)
	}
	unit := fig.carriedUnit()
	s.EachWorld(need, a, b, func(first int, worlds [][]solve.Affine) {
		for f := range worlds[0] {
			c := r3.Vec{}
			for i := range joints {
				c = r3.Add(c, r3.Scale(masses[i], worlds[i][f].Origin()))
			}
			if fig.Carrier != scene.NoPart {
				inv := worlds[len(joints)][f].Inverse()
				c = inv.Point(c)
			}
			out[first-a+f] = r3.Scale(1/unit, c)
		}
	})
	return out
}

// bodyJoints are the joints of torso and limbs. What carries the whole body without
// ever moving, a group at the origin, is no joint of it.
func (fig *Anatomy) bodyJoints() []scene.PartID {
	s := fig.cast
	var joints []scene.PartID
	for _, p := range fig.Parts {
		switch fig.labels[p].Body {
		case Hips, Chest, Neck, Head, Arm, Leg:
			if s.isBone(p) {
				joints = append(joints, p)
			}
		}
	}
	carries := func(p scene.PartID, rest []scene.PartID) bool {
		for _, q := range rest {
			if !s.IsAncestor(p, q) {
				return false
			}
		}
		return true
	}
	for len(joints) > 1 && fig.staysPut(joints[0]) && carries(joints[0], joints[1:]) {
		joints = joints[1:]
	}
	return joints
}

// staysPut reports whether a part is in one place in the world all the time.
func (fig *Anatomy) staysPut(p scene.PartID) bool {
	s := fig.cast
	at := s.WorldPosition(p, s.First)
	for k := 1; k <= 8; k++ {
		if vec.Distance(at, s.WorldPosition(p, s.Frame(k*(s.N-1)/8))) > 1e-9*fig.Size {
			return false
		}
	}
	return true
}

// carriedUnit is the length of a figure size in the space of carried tracks.
func (fig *Anatomy) carriedUnit() float64 {
	if fig.Carrier == scene.NoPart {
		return fig.Size
	}
	m := fig.cast.WorldAt(fig.Carrier, fig.cast.First)
	if k := m.Scale(); k > 0 {
		return fig.Size / k
	}
	return fig.Size
}
