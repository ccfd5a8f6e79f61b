// Package command executes the commands that actions and lenses lead to: they show a
// place, a document, a chart or a page, or make an edit.
//
// The words:
//
//   - A document is a text that the server itself writes, at an address of its own.
//   - A chart is a picture of a move; a page is a whole shot. Both are shown by a
//     browser on this machine.
package command
