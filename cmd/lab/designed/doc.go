// Package designed makes figures and motion from closed forms, for the demo,
// the corpus and the benchmarks. Nothing here is captured or copied: every
// value is a formula of time, so the same shot can be taken at any rate (it is
// evaluated again, never resampled), placed anywhere, and compared with what
// the study measures.
//
// The pieces, from small to large: a Signal is one value over time, made of
// strokes with a Profile; a Part is a node with a rest offset and signals; a
// Limb keeps a foot or a hand where it belongs; a Shot is a hierarchy of parts
// with the flaws planted in it (Label); a Take is a shot evaluated at whole
// frames. The package write turns a take into text scene files.
//
// Times are seconds from the first frame, angles degrees, lengths the shot's
// units. All figures, names and motion are invented data.
package designed

//go:generate go run curvelint/cmd/lab/designed/demo/generate ../../../testdata/demo
