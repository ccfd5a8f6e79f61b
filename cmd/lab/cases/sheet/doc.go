// Package sheet makes a shot from a few lines, for labelled cases near a
// threshold to which no planter of the corpus comes. Like an exposure sheet it
// counts in frames:
//
//	rate 24; last 40                      frames a second, the last frame; the first is 1
//	figure body Tug                       body, beast, bird, face, weights or tail, scaled: figure body Tug 0.5
//	part Winch/drum at 0 40 0             a part of its own, below one that is there; centimetres
//	weight head/smile                     a shape weight of a part, 0 to 1
//	head.ry 10-22 even 40                 from frame 10 to 22 by 40, at one speed
//
// A line names a part (the end of its path will do) and a channel: tx ty tz
// (centimetres), rx ry rz (degrees), w (a weight), and then what it does:
//
//	head.ry rest 12                       stands there
//	head.ry 10-22 ease 40                 a stroke: even, ease (minimum jerk), smooth (cubic), cosine,
//	head.ry 10-22 trapezoid 40 0.1        even but for a share that speeds up and slows down,
//	head.ry 10-22 out 40                  fast at once, slower and slower; in: the other way round
//	head.ry 10-22 swell 40                there and back
//	head.ry 14 jump 3                     for one frame
//	head.ry 14 step 3                     from that frame on
//	head.ry wave 2 36 0.25                sine: amount, frames a period, phase in turns
//	head.ry drift 0.6 7                   slow wander: amount, seed
//	head.ry hold 2                        all that was said of it so far, on twos
//
// Formats without frame numbers (glTF, COLLADA, X3D) count from 0, so that what a
// sheet plants at frame 14 is at frame 13 of the file.
//
// Lines are separated by line ends or semicolons; # begins a comment. What
// lines say of one channel adds up.
package sheet
