// Package passes holds two passes of one shot against each other: is this one
// better than the last, where, and by how much. Parts are matched although their
// paths may have changed, strokes although they may come sooner or later, notes
// although their frames may have moved; what is the same within noise is not
// spoken of.
//
// Times are matched in seconds, so that rates may differ; what is said is said in
// frames of the later pass. Compare is a pure function of its arguments.
package passes
