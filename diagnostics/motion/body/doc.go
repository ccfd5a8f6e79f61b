// Package body finds the bodies in a scene and says what they are made of, from the
// names of parts and, where names say little, from the shape of the whole. It knows
// where parts are (solve), but no paths.
//
// The words of this room:
//
//   - The cast is all figures of a scene. A figure is one body that acts: a person, a
//     beast, a lone crate; its anatomy is what it is made of.
//   - A label says of a part what it is of the body (Body: arm, head), on which side
//     (Side), where along a limb (Place), and of which pair of limbs.
//   - A limb is an arm, a leg or a wing; a two-bone limb bends at a knee or an elbow.
//   - A chain is a run of parts that bend one after the other: a spine, a tail, a rope.
//   - A group is a named set of parts that an audience sees as one thing: the brows,
//     the left arm.
//   - A point is a place on a part whose path is studied: root, head, hands, heels,
//     toes, and the tips of other chains. Its role says which.
//   - The size of a figure is the longest way along its bones; lengths are given in it.
//   - The carrier is what a figure stands on and goes along with: a deck, a cart.
//   - The shape of a figure is what can be seen of it without names.
package body
