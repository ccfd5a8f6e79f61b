// Package write turns takes of designed shots into text scene files, one writer
// a format. The same take carries the same motion in all of them, as far as the
// format can: what it cannot carry (a camera in BVH, a shape weight without a
// mesh) is left out.
package write
