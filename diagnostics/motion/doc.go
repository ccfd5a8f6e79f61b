// Package motion is the study of a scene's motion: its curves evaluated at
// whole frames, its hierarchy solved in world space, its figures, groups and
// tracked points found, and the motion of those cut into rests, strokes, beats,
// contacts and events. Everything is computed once per scene and on demand;
// a Study may be shared by concurrent readers.
//
// All windows are given in seconds and turned into frames by rounding, at least
// one; no threshold is per frame. Frame indices count from 0 at the first whole
// frame of the study; Study.Frame turns them into display frames.
package motion
