// Package cases reads and judges the labelled cases of the checks: small scenes
// in testdata/checks/CHECK, each with what must be said of it. A case says what
// was planted or what an animator sees, never what the check happens to say.
//
// A case is a txtar file. Its name begins with what it is:
//
//   - flaw-NAME.txtar has the flaw that its check is about,
//   - near-NAME.txtar nearly has it: the same motion properly animated, or what
//     the check's document says is left out,
//   - proper-NAME.txtar has nothing to note at all.
//
// The comment before the first file says in one to three lines what the case
// is. The first file that is neither curvelint.toml nor want is the scene, and
// its name gives the format; further files are those that the scene names.
// curvelint.toml, when there is one, is what a person says of the shot.
//
// Expected notes stand in the scene itself where the format has # comments, at
// the end of the line of the note,
//
//	31: (0, 12.5, 0), # want even-spacing "frames 31-38"
//
// or, for all formats, in the file want, a line each: the line of the note
// (with the name of its file where that is not the scene), the check, and part
// of the message, which must tell this note from others:
//
//	118 even-spacing "frames 31-38: head"
//	curvelint.toml:4 unused-allow "is not needed"
//
// All notes of all checks are compared with the expected ones, one to one: a
// note that is not expected fails, and so does an expected one that does not
// come.
//
// To write a case:
//
//	go run ./cmd/lab/cases/draft -check hitch -seed 3 -format bvh -o testdata/checks/hitch/flaw-reach.txtar
//	go run ./cmd/lab/cases/pins hitch
//
// A draft's expectations begin with "? ", which fails until a person has looked
// at the motion and taken the mark away.
package cases
