package write

import (
	_ "embed"
	"html/template"
	"io"

	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/report"
)

//go:embed page.html
var pageText string

var page = template.Must(template.New("page").Parse(pageText))

// HTML writes a comparison as one page that needs nothing else: no script, no
// other file. It says what Text says.
func HTML(w io.Writer, c *passes.Comparison) error {
	title, lines := Heading(c)
	data := struct {
		Title    string
		Lines    []string
		Sections []section
	}{report.Visible(title), visible(lines), sections(c)}
	for i := range data.Sections {
		for j := range data.Sections[i].Items {
			it := &data.Sections[i].Items[j]
			it.Name, it.Lines = report.Visible(it.Name), visible(it.Lines)
		}
	}
	return page.Execute(w, data)
}

func visible(lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = report.Visible(l)
	}
	return out
}
