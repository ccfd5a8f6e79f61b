// Package corpus is the labelled corpus: scenes made by code with one flaw each
// planted in them, near misses (the same motion, properly animated) and natural
// motion, and the score that the checks reach on them. Scenes are deterministic
// and so are not kept as files. All of it is invented data.
//
// Even seeds are for calibration, odd ones are held back for the report.
package corpus
