package cases

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/tools/txtar"
)

// Draft writes a case with the notes that came as its expected ones. Its comment
// and each expectation are marked as a draft, so that it is refused until a
// person has looked at them. Sheet, where there is one, is what its scene was
// made from.
func Draft(c *Case, sheet string, notes []Got) []byte {
	a := &txtar.Archive{Comment: []byte(draftMark + " " + c.About + "\n")}
	add := func(name, text string) {
		if text = strings.TrimSuffix(text, "\n"); text != "" {
			a.Files = append(a.Files, txtar.File{Name: name, Data: []byte(text + "\n")})
		}
	}
	add(SheetName, sheet)
	add(ConfigName, string(c.Files[ConfigName]))
	add(c.Scene, string(c.Files[c.Scene]))
	var more []string
	for name := range c.Files {
		if name != c.Scene && name != ConfigName {
			more = append(more, name)
		}
	}
	slices.Sort(more)
	for _, name := range more {
		add(name, string(c.Files[name]))
	}
	var wants strings.Builder
	for _, n := range notes {
		file := ""
		if n.File != c.Scene {
			file = n.File + ":"
		}
		message, _, _ := strings.Cut(n.Message, ";")
		fmt.Fprintf(&wants, "%s %s%d %s %q\n", draftMark, file, n.Line, n.Check, message)
	}
	add(WantsName, wants.String())
	return txtar.Format(a)
}
