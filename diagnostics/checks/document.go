package checks

import "strings"

// Text is the check's document for those who read it as text: in the place of
// its picture stands what the picture shows.
func (c *Check) Text() string {
	lines := strings.SplitAfter(c.Doc, "\n")
	for i, l := range lines {
		if alt, ok := pictureWords(l); ok {
			lines[i] = "**For example.** " + alt + "\n"
		}
	}
	return strings.Join(lines, "")
}

// pictureWords returns what a line of a document says of its picture; ok is
// false for other lines.
func pictureWords(line string) (alt string, ok bool) {
	rest, ok := strings.CutPrefix(line, "![")
	if !ok {
		return "", false
	}
	alt, _, ok = strings.Cut(rest, "](")
	return alt, ok
}

// WithPicture returns a document with a picture, and words for those who do not
// see it, after its second paragraph; or with the picture it has replaced.
func WithPicture(doc, file, alt string) string {
	line := "![" + strings.NewReplacer("[", "(", "]", ")").Replace(alt) + "](" + file + ")"
	paragraphs := strings.Split(doc, "\n\n")
	for i, p := range paragraphs {
		if strings.HasPrefix(p, "![") {
			paragraphs[i] = line
			return strings.Join(paragraphs, "\n\n")
		}
	}
	const after = 3 // the heading, what it is, why an audience feels it
	if len(paragraphs) < after {
		return doc + "\n" + line + "\n"
	}
	paragraphs = append(paragraphs[:after], append([]string{line}, paragraphs[after:]...)...)
	return strings.Join(paragraphs, "\n\n")
}
