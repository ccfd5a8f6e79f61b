package checks

import (
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/checks/tool"
	"curvelint/diagnostics/note"
)

// every returns the checks of motion and of the tool.
func every() []*kit.Check { return slices.Concat(All, tool.Checks) }

var (
	kebab = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	snake = regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)
)

var groups = []kit.Group{kit.Timing, kit.Spacing, kit.Holds, kit.Paths, kit.Noise, kit.Contact, kit.Staging, kit.Tool}

func TestRegistry(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range every() {
		if !kebab.MatchString(c.ID) {
			t.Errorf("%q is not lower case words joined by hyphens", c.ID)
		}
		if seen[c.ID] {
			t.Errorf("%s stands twice in the list", c.ID)
		}
		seen[c.ID] = true
		if c.Severity == note.Off || c.Severity > note.Hint {
			t.Errorf("%s has no severity", c.ID)
		}
		if !slices.Contains(groups, c.Group) {
			t.Errorf("%s has the unknown group %q", c.ID, c.Group)
		}
		if c.Title == "" || strings.HasSuffix(c.Title, ".") {
			t.Errorf("%s: title %q", c.ID, c.Title)
		}
		if Find(c.ID) != c {
			t.Errorf("Find does not find %s", c.ID)
		}
		if c.Group != kit.Tool && c.Run == nil {
			t.Errorf("%s has nothing to run", c.ID)
		}
		for _, y := range c.YieldsTo {
			if y == c.ID {
				t.Errorf("%s yields to itself", c.ID)
			}
			if !slices.Contains(planned, y) && Find(y) == nil {
				t.Errorf("%s yields to %q, which does not exist", c.ID, y)
			}
		}
	}
	for i := 1; i < len(All); i++ {
		if slices.Index(groups, All[i].Group) < slices.Index(groups, All[i-1].Group) {
			t.Errorf("%s stands after %s, though its group comes before", All[i].ID, All[i-1].ID)
		}
	}
	if Find("no-such-check") != nil {
		t.Error("Find finds what does not exist")
	}
}

// planned are checks that a YieldsTo may name before they are written.
var planned = []string{}

func TestDocuments(t *testing.T) {
	for _, c := range every() {
		file := c.Folder() + "/" + strings.ReplaceAll(c.ID, "-", "_") + ".md"
		onDisk, err := os.ReadFile(file)
		if err != nil || string(onDisk) != c.Doc {
			t.Errorf("the document of %s is not that in %s: %v", c.ID, file, err)
		}
		if want := "# " + c.ID + ": " + c.Title + "\n"; !strings.HasPrefix(c.Doc, want) {
			t.Errorf("%s must begin with %q", file, want)
		}
		if !strings.Contains(c.Doc, "**When to leave it.**") {
			t.Errorf("%s does not say when to leave it", file)
		}
		for _, setting := range c.Settings {
			s := setting.About()
			row := regexp.MustCompile("(?m)^\\| *`" + s.Name + "` *\\| *([^|]*?) *\\| *([^|]*?) *\\|").FindStringSubmatch(c.Doc)
			if row == nil {
				t.Errorf("%s has no row | `%s` | unit | default | for that setting", file, s.Name)
				continue
			}
			if value, err := strconv.ParseFloat(row[2], 64); err != nil || math.Abs(value-s.Default) > 0.01*s.Default || row[1] != s.Unit {
				t.Errorf("%s says that `%s` is %s %s; it is %g %s", file, s.Name, row[2], row[1], s.Default, s.Unit)
			}
		}
	}
}

func TestSettings(t *testing.T) {
	for _, c := range every() {
		seen := map[string]bool{"severity": true}
		for _, setting := range c.Settings {
			s := setting.About()
			if !snake.MatchString(s.Name) || seen[s.Name] {
				t.Errorf("%s: setting name %q is taken or not lower case words joined by underscores", c.ID, s.Name)
			}
			seen[s.Name] = true
			if !(s.Min <= s.Default && s.Default <= s.Max) {
				t.Errorf("%s %s: default %g outside %g to %g", c.ID, s.Name, s.Default, s.Min, s.Max)
			}
			if s.Doc == "" {
				t.Errorf("%s %s is not described", c.ID, s.Name)
			}
			if s.Unit == "" && (s.Min != 0 || s.Max != 1) {
				t.Errorf("%s %s has no unit", c.ID, s.Name)
			}
		}
	}
}

// What gives way to what when several checks find one cause, as far as the
// checks exist. Common practice, no source: the one that names the cause most
// narrowly is the one to act on.
func TestPrecedence(t *testing.T) {
	for _, pair := range [][2]string{ // loser, winner
		{"jitter", "hitch"}, {"hitch", "kinked-arc"}, {"kinked-arc", "pop"},
		{"uniform-drift", "frozen-hold"}, {"crowded-beat", "same-frame"},
		{"hard-start", "even-spacing"}, {"hard-stop", "even-spacing"},
	} {
		loser, winner := Find(pair[0]), Find(pair[1])
		if loser != nil && winner != nil && !slices.Contains(loser.YieldsTo, winner.ID) {
			t.Errorf("%s must yield to %s", loser.ID, winner.ID)
		}
	}
}
