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
// is. The first file that is no curvelint.toml, want or sheet is the
// scene, and its name gives the format; further files are those that the scene names.
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
// Such a comment is the text's own, so that nothing of the scene changes but the
// length of that line. The part of a message includes its frames, where it has
// any: a note that has moved is another note. Texts end in a line end, as txtar
// has it; a file that stops within its last line cannot be a case.
//
// All notes of all checks are compared with the expected ones, one to one: a
// note that is not expected fails, and so does an expected one that does not
// come.
//
// A file called sheet is not judged. It holds the lines of which the scene was
// made (package sheet), for people.
//
// # Is a case right?
//
// A case is right by what was planted, or by what an animator sees in the
// picture, and that is decided before the check is asked. Say first, in the
// comment, what moves how and at which frames; then write the expected notes;
// then run. Where the check says something else, either the motion is not what
// the comment says, or the check is wrong. A case that shows the check to be
// wrong is no labelled case yet: report it, and never bend its label or its
// frames until it passes. What is too weak to be noted is a near miss only when
// an audience would let it pass as well.
//
// # To write one
//
//	go run ./cmd/lab/cases/pins hitch               # what holds each setting, and what is missing
//	go run ./cmd/lab/cases/pins -search 40 hitch    # scenes of the corpus that would hold it
//	go run ./cmd/lab/cases/draft -check hitch -seed 3 -format bvh -around 0.8 -o testdata/checks/hitch/flaw-reach.txtar
//	go run ./cmd/lab/cases/draft -check hitch -sheet lines.txt -format csv -o testdata/checks/hitch/near-gull.txtar
//	go test ./diagnostics/checks/... -run 'TestLabelledCases|TestSettingsArePinned'
//
// The comment and the expectations of a draft begin with "? ", which is refused
// until a person has looked at the motion and taken the marks away.
package cases
