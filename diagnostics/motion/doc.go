// Package motion is the study of a scene's motion. It joins its rooms: the hierarchy
// solved in world space (solve), the bodies in it (body), and the paths of their points,
// turns and values (track). Everything is computed once per scene and on demand; a
// Study may be shared by concurrent readers.
//
// The words of this room:
//
//   - A study is one scene with all that is found out about how it moves.
//   - A figure is one body that acts, with its anatomy; a group is a named set of its
//     parts that an audience sees as one thing, with the strokes of the group.
//   - A point track is the path of a point of a figure in the world; a carried track
//     the same relative to what carries the figure (a deck, a cart).
//   - A beat is a stretch of time in which the strokes of a figure overlap or follow
//     each other closely.
//   - A contact is a stretch of frames in which a foot or a hand stays where it is on
//     what bears it; a grip one in which a hand and what it holds move together.
//   - A driver is a channel that moves a track, with its share of the motion.
//   - A view is the picture of the shot's camera.
//   - Living parts are judged in everything, mechanical ones are not judged as acting.
//
// All windows are given in seconds and turned into frames by rounding, at least
// one; no threshold is per frame. Frame indices count from 0 at the first whole
// frame of the study; Study.Frame turns them into display frames.
package motion
