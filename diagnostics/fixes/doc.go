// Package fixes mends what a note finds: it re-times a run, offsets keys,
// lets a hold drift, smooths a frame, unwraps an angle, removes idle keys, or
// writes an allowance. A fix is a list of text edits on the numbers of keys,
// with the spacing before and after for a preview. Making one is a pure
// function of the motion study and the note; nothing is applied here.
package fixes
