// Package show makes what an editor shows out of a study and its notes: the texts of
// hovers, lenses and hints, pictures, diagnostics, and the commands that lead
// further. It knows no open texts and answers no requests.
//
// The words:
//
//   - A sheet is the text of a hover: a name, facts and notes below each other.
//   - A lens is a line over a part; a hint stands behind a line of keys.
//   - An address leads to a document that the server itself writes.
package show
