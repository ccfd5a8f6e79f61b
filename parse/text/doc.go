// Package text turns bytes into what the parsers and the editor features need:
// numbers read exactly, lines, positions in the units that editors count in,
// and files in UTF-16 as UTF-8. It knows nothing of scenes.
package text
