package show

import (
	"fmt"

	"go.lsp.dev/uri"

	"curvelint/diagnostics/chart"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

// ChartFor returns the chart of a scene that shows best what a note is about, with
// half a second around it.
// It need not be of the part that the note is on. Ok is false when there is
// nothing to draw.
func ChartFor(s *motion.Study, u uri.URI, n *note.Note) (a ChartArguments, ok bool) {
	a = ChartArguments{URI: u, Part: n.Part, Kind: "spacing"}
	if c := checks.Find(n.Check); c != nil {
		switch c.Group {
		case kit.Timing:
			a.Kind = "speed"
		case kit.Paths, kit.Contact:
			a.Kind = "arc"
		case kit.Holds, kit.Staging:
			a.Kind = "timeline"
		}
	}
	if part, ok := chart.Subject(s, a.Kind, n.PartID); ok {
		a.Part = s.Scene.Parts[part].Path
	} else {
		a.Kind = "spacing"
		if _, ok = chart.Subject(s, a.Kind, n.PartID); !ok {
			return a, false
		}
	}
	around := s.Window(0.5)
	a.First = s.Frame(max(0, s.Index(n.First)-around))
	a.Last = s.Frame(min(s.N-1, s.Index(n.Last)+around))
	return a, a.First < a.Last
}

// ChartTitle says what is on a chart, for whoever may look at it.
func ChartTitle(a *ChartArguments) string {
	return fmt.Sprintf("Show the %s of %s", chartNames[a.Kind], words.Span(a.First, a.Last))
}

// chartNames say what a kind of chart shows.
var chartNames = map[string]string{"spacing": "spacing", "arc": "arc", "timeline": "timeline", "speed": "speeds"}
