// Package facts says what there is to know at one key or one part of a shot,
// whether or not a check finds fault with it: where it is, how far it travels
// to the frames beside it, what move or hold it belongs to, who leads whom.
// Everything is a pure function of a motion study.
package facts
