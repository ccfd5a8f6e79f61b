package report

import (
	"io"
	"net/url"
	"path/filepath"
	"strings"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"

	"curvelint/diagnostics"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/note"
)

// sarifWriter writes SARIF 2.1.0 (OASIS standard, 27 March 2020): one run, one
// rule for each check with its document, one result for each note. The form
// wants everything at once, so results are kept until Close.
type sarifWriter struct {
	w     io.Writer
	run   *sarif.Run
	rules map[string]int // the index of each check's rule
	seen  map[string]int // the index of each file's artifact
}

// sarifSchema is the address by which the standard names its schema.
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

func newSARIF(w io.Writer, version string) *sarifWriter {
	driver := sarif.NewToolComponent().WithName("curvelint")
	if version != "" {
		driver.WithVersion(version)
	}
	s := &sarifWriter{w: w, run: sarif.NewRun().WithTool(sarif.NewTool().WithDriver(driver)),
		rules: map[string]int{}, seen: map[string]int{}}
	s.run.WithColumnKind("unicodeCodePoints").WithResults([]*sarif.Result{})
	for i, c := range diagnostics.Checks() {
		s.rules[c.ID] = i
		driver.AddRule(rule(c))
	}
	return s
}

// rule describes a check.
func rule(c *kit.Check) *sarif.ReportingDescriptor {
	body := c.Text()
	if _, below, ok := strings.Cut(body, "\n"); ok {
		body = strings.TrimSpace(below) // the heading repeats id and title
	}
	return sarif.NewReportingDescriptor().WithID(c.ID).WithName(pascal(c.ID)).
		WithShortDescription(sarif.NewMultiformatMessageString().WithText(sentence(c.Title))).
		WithHelp(sarif.NewMultiformatMessageString().WithText(body).WithMarkdown(body)).
		WithDefaultConfiguration(sarif.NewReportingConfiguration().WithLevel(level(c.Severity))).
		WithProperties(&sarif.PropertyBag{Properties: map[string]any{"group": string(c.Group)}})
}

// pascal turns even-spacing into EvenSpacing, the form that SARIF asks of rule
// names (section 3.49.7).
func pascal(id string) string {
	var b strings.Builder
	for _, word := range strings.Split(id, "-") {
		b.WriteString(strings.ToUpper(word[:1]) + word[1:])
	}
	return b.String()
}

func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] + "." }

// level is the SARIF word for a severity; information and hints are both notes.
func level(s note.Severity) string {
	switch s {
	case note.Error:
		return sarif.LevelError
	case note.Warning:
		return sarif.LevelWarning
	}
	return sarif.LevelNote
}

func (s *sarifWriter) File(f *File) error {
	s.artifact(f.Path)
	for i := range f.Notes {
		s.run.AddResult(s.result(&f.Notes[i]))
	}
	return nil
}

func (s *sarifWriter) result(n *Note) *sarif.Result {
	here := s.location(n.Path, n.Start, n.End)
	if n.Part != "" {
		here.WithLogicalLocations([]*sarif.LogicalLocation{
			sarif.NewLogicalLocation().WithFullyQualifiedName(n.Part).WithKind("object")})
	}
	properties := map[string]any{"severity": n.Severity, "weight": n.Weight}
	if n.Frames != nil {
		properties["frames"] = n.Frames
	}
	if len(n.Measures) > 0 {
		properties["measures"] = n.Measures
	}
	r := sarif.NewResult().WithRuleID(n.Check).WithLevel(level(n.severity)).
		WithMessage(sarif.NewTextMessage(n.Message)).WithLocations([]*sarif.Location{here}).
		WithProperties(&sarif.PropertyBag{Properties: properties, Tags: n.Tags})
	if i, ok := s.rules[n.Check]; ok {
		r.WithRuleIndex(i)
	}
	for j := range n.Related {
		k := &n.Related[j]
		r.AddRelatedLocation(s.location(k.Path, k.Start, k.End).WithID(j).WithMessage(sarif.NewTextMessage(k.Message)))
	}
	return r
}

func (s *sarifWriter) location(path string, start, end Place) *sarif.Location {
	region := sarif.NewRegion().WithStartLine(start.Line).WithStartColumn(start.characters).
		WithEndLine(end.Line).WithEndColumn(end.characters)
	return sarif.NewLocation().WithPhysicalLocation(sarif.NewPhysicalLocation().
		WithArtifactLocation(sarif.NewSimpleArtifactLocation(fileURI(path)).WithIndex(s.artifact(path))).
		WithRegion(region))
}

// artifact returns the index of a file, which it adds when it is new.
func (s *sarifWriter) artifact(path string) int {
	i, ok := s.seen[path]
	if !ok {
		i = len(s.run.Artifacts)
		s.seen[path] = i
		s.run.AddArtifact(sarif.NewArtifact().WithLength(-1).WithLocation(sarif.NewSimpleArtifactLocation(fileURI(path))))
	}
	return i
}

// fileURI is the URI of a path: a relative reference for a relative path
// (RFC 3986, section 4.2).
func fileURI(path string) string {
	u := url.URL{Path: filepath.ToSlash(path)}
	if filepath.IsAbs(path) {
		u.Scheme = "file"
		if !strings.HasPrefix(u.Path, "/") { // a drive
			u.Path = "/" + u.Path
		}
	}
	return u.String()
}

func (s *sarifWriter) Close() error {
	r := sarif.NewReport()
	r.Schema = sarifSchema
	r.AddRun(s.run)
	return r.PrettyWrite(s.w)
}
