// Package parse reads a text scene of any known format into the scene model:
// it picks the format by content, then by name.
package parse
