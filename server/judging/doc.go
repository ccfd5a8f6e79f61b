// Package judging says when what is judged, keeps what was found, and lets the client
// know: of open texts after each edit, of files on disk after each export, of
// configurations, and of earlier passes.
//
// The words:
//
//   - The ledger holds what was found, an entry for each text judged: a scene with
//     what it reads, or a configuration.
//   - An entry has notes by file, since those on a layer come from the scene that
//     reads it.
//   - A scene is broken when its text looks half written; its notes then stay as they
//     were for a while.
//   - An entry is stale when a file that it was made of, or what governs it, is no
//     longer as it was.
package judging
