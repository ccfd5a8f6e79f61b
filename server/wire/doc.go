// Package wire is what lies between the server and an editor: messages in bytes,
// their order, the columns that an editor counts, what it can do, and what it is
// told and asked. It knows JSON and the protocol, and nothing of motion.
//
// The words:
//
//   - A client is the editor at the other end.
//   - An ability is something that the client says it can do.
//   - A task is work in the background that has a name; a newer one of the name ends
//     the older one.
//   - A diagnostic is a note as the protocol has it.
package wire
