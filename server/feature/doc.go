// Package feature holds what an editor can ask about a scene, a file for each method
// of the protocol and named after it. A feature finds what a request is about in
// package workspace and has package show say what there is to say.
//
// The words:
//
//   - A shot is a scene that was studied and judged; a read is one that was read
//     only, which is there sooner.
//   - A place is a number of a key and where it is written.
//   - A header is the line that names a part or a channel.
package feature
