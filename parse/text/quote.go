package text

import (
	"fmt"
	"unicode/utf8"
)

// Quote quotes what was found in a file for a message: escaped, and cut to
// about 40 bytes.
func Quote(b []byte) string {
	const most = 40
	if len(b) <= most {
		return fmt.Sprintf("%q", b)
	}
	b = b[:most]
	for n := 1; n < utf8.UTFMax && !utf8.Valid(b); n++ {
		b = b[:len(b)-1]
	}
	return fmt.Sprintf("%q", string(b)+"…")
}
