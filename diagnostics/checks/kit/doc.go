// Package kit is what several checks use: the shape of a check with its settings
// and limits, the context of a run, drafting a note at the channel that drives a
// motion, one candidate for each cause, and what is seen, touched or carried.
package kit
