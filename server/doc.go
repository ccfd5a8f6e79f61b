// Package server is the language server: it shows the notes on a scene's
// motion in any editor that speaks the Language Server Protocol (3.17, and what
// 3.18 adds where both sides can). One file holds one method of the protocol.
//
// The server does no mathematics and knows no file format: package workspace
// keeps the texts and their studies, the packages below diagnostics say what is
// to be said about them, and this package turns byte ranges into positions.
package server
