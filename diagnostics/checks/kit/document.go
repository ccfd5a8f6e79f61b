package kit

import (
	"slices"
	"strconv"
	"strings"
)

// Text is the check's document for those who read it as text: in the place of
// its pictures stands what they show, and its limits follow.
func (c *Check) Text() string {
	lines := strings.SplitAfter(c.Doc, "\n")
	for i, l := range lines {
		if alt, file, ok := PictureIn(l); ok {
			if words, _, dashed := strings.Cut(alt, Dashed); dashed {
				alt = words + "." // what is dashed only a picture has
			}
			lines[i] = opening(file) + alt + "\n"
		}
	}
	return strings.Join(lines, "") + c.limits()
}

// limits is the section of a document that lists what decides besides the
// settings, "" for a check without.
func (c *Check) limits() string {
	if len(c.Limits) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("\n## Limits\n\nThese decide as well, and are not for a configuration to change.\n\n| limit | unit | value | what it does | where it comes from |\n| --- | --- | --- | --- | --- |\n")
	for _, l := range c.Limits {
		b.WriteString("| `" + l.Name + "` | " + l.Unit + " | " + strconv.FormatFloat(l.Value, 'g', -1, 64) + " | " + l.Doc + " | " + l.Source + " |\n")
	}
	return b.String()
}

// Threshold ends the name of a picture of how often a check is right.
const Threshold = "-threshold.svg"

// Dashed begins what the words of a picture say of the motion drawn behind.
const Dashed = "; dashed:"

// opening begins the words of a picture in a text.
func opening(file string) string {
	if strings.HasSuffix(file, Threshold) {
		return "**How often it is right.** "
	}
	return "**For example.** "
}

// PictureIn returns what a line of a document says of its picture, and the
// picture's file; ok is false for other lines.
func PictureIn(line string) (alt, file string, ok bool) {
	rest, ok := strings.CutPrefix(line, "![")
	if !ok {
		return "", "", false
	}
	alt, file, ok = strings.Cut(rest, "](")
	return alt, strings.TrimRight(file, ")\n"), ok
}

// WithPicture returns a document with a picture, and words for those who do not
// see it: in the place of an earlier version of it, else after the second
// paragraph, or before the source for a picture of how often a check is right.
func WithPicture(doc, file, alt string) string {
	line := "![" + strings.NewReplacer("[", "(", "]", ")").Replace(alt) + "](" + file + ")"
	paragraphs := strings.Split(doc, "\n\n")
	at := min(3, len(paragraphs)) // the heading, what it is, why an audience feels it
	for i, p := range paragraphs {
		if _, f, ok := PictureIn(p); ok && f == file {
			paragraphs[i] = line
			return strings.Join(paragraphs, "\n\n")
		}
		if strings.HasSuffix(file, Threshold) && strings.HasPrefix(p, "Source:") {
			at = i
		}
	}
	return strings.Join(slices.Insert(paragraphs, at, line), "\n\n")
}
