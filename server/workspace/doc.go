// Package workspace keeps what an editing session is about: the open texts in
// all their versions, the files on disk, the configuration that governs each,
// and the studies of them, made in the background and given up when nobody
// waits for them any more. It knows bytes and scenes, not the protocol's
// messages.
package workspace
