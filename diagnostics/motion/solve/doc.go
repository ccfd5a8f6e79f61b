// Package solve evaluates the curves of a scene and solves its hierarchy: where every
// part is at any time. It knows parts and channels, no bodies and no paths.
//
// The words of this room:
//
//   - A part is one node of the scene's hierarchy: a joint, a mesh, a camera, a shape
//     weight. A channel is a curve that drives one value of a part, or several.
//   - A local transform takes a part's own frame to its parent's, a world transform to
//     the scene's.
//   - A block is a run of frames that are solved at once, column by column.
//   - A rigid part only turns and shifts; its transforms are evaluated as quaternions.
//   - A baked stretch of keys is one with a key every frame or two, as an exporter
//     writes them; an authored key was set by hand.
//   - The noise of a channel is how far its values may be from what was animated, for
//     the digits that the file has.
package solve
