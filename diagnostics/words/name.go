package words

import "strings"

// longestName bounds names in messages: these must stay readable in one line.
const longestName = 24

// Shorten leaves out the middle of a name that is longer than 24 letters: both ends
// of a name from a rig say more than its middle.
func Shorten(name string) string {
	r := []rune(name)
	if len(r) <= longestName {
		return name
	}
	half := (longestName - 1) / 2
	return string(r[:half]) + "…" + string(r[len(r)-half:])
}

// LastName returns the last name of a part's path: what a person calls the part.
func LastName(path string) string { return path[strings.LastIndexByte(path, '/')+1:] }
