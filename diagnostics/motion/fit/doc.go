// Package fit finds the curves that lie nearest to given points: a circle in space,
// a parabola in time.
package fit
