package motion_test

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/cmd/lab/scenetest"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// habit renames a part: from the words of its name, its side and its number in
// the file.
type habit struct {
	name  string
	write func(words []string, side body.Side, n int) string
}

func pascalWords(words []string) string {
	var b strings.Builder
	for _, w := range words {
		b.WriteString(strings.ToUpper(w[:1]) + w[1:])
	}
	return b.String()
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return string(unicode.ToLower(rune(s[0]))) + s[1:]
}

var letters, long = [...]string{"", "L", "R"}, [...]string{"", "left", "right"}

// habits are ways of naming that animators use (common practice, no source).
var habits = []habit{
	{"camel", func(w []string, s body.Side, _ int) string {
		return lowerFirst(pascalWords(append([]string{long[s]}[:min(int(s), 1)], w...)))
	}},
	{"snake", func(w []string, s body.Side, _ int) string {
		return strings.TrimSuffix(strings.Join(w, "_")+"_"+strings.ToLower(letters[s]), "_")
	}},
	{"rig:", func(w []string, s body.Side, _ int) string {
		return "rig:" + pascalWords(append([]string{long[s]}[:min(int(s), 1)], w...))
	}},
	{"b_", func(w []string, s body.Side, _ int) string {
		return "b_" + pascalWords(append([]string{long[s]}[:min(int(s), 1)], w...))
	}},
	{"L_first", func(w []string, s body.Side, _ int) string {
		return strings.TrimPrefix(letters[s]+"_"+strings.Join(w, ""), "_")
	}},
	{"last.L", func(w []string, s body.Side, _ int) string {
		return strings.TrimSuffix(pascalWords(w)+"."+letters[s], ".")
	}},
	{"numbered", func(w []string, s body.Side, n int) string {
		return strings.TrimPrefix(strings.ToLower(letters[s])+"_"+strings.Join(w, "_")+fmt.Sprintf("_%02d_jnt", n%20), "_")
	}},
	{"joint17", meaningless},
	{"half", func(w []string, s body.Side, n int) string {
		if l := body.ReadName(strings.Join(w, "_")); l.Body.Face() || l.Body == body.Ears {
			return strings.Join(w, "_") + "_" + strings.ToLower(letters[s])
		}
		return meaningless(w, s, n)
	}},
	// Short words, and long ones without their vowels.
	{"clipped", func(w []string, s body.Side, _ int) string {
		out := ""
		for _, x := range strings.Fields(strings.NewReplacer("upper", "upr ", "lower", "lwr ").Replace(strings.Join(w, " "))) {
			if len(x) > 3 {
				x = x[:1] + strings.NewReplacer("a", "", "e", "", "i", "", "o", "", "u", "").Replace(x[1:])
			}
			out += strings.ToUpper(x[:1]) + x[1:]
		}
		return out + strings.ToUpper(letters[s])
	}},
	// Of arms and legs the upper bones are told in words nobody knows.
	{"bicipit", func(w []string, s body.Side, _ int) string {
		name := strings.Join(w, "_") + "_" + strings.ToLower(letters[s])
		if l := body.ReadName(name); l.Place == body.Upper && (l.Body == body.Arm || l.Body == body.Leg) {
			return "bicipit_" + string(l.Body.String()[0]) + strings.Repeat("x", int(l.Pair)%2) + "_" + strings.ToLower(letters[s])
		}
		return name
	}},
	// Of trunk, arms and legs only hands and toes are told.
	{"ends", func(w []string, s body.Side, n int) string {
		name := strings.Join(w, "_") + "_" + strings.ToLower(letters[s])
		switch l := body.ReadName(name); l.Body {
		case body.Hips, body.Chest, body.Neck, body.Head, body.Arm, body.Leg:
			if !slices.Contains(w, "hand") && !slices.Contains(w, "wrist") && l.Place != body.Toe {
				return meaningless(w, s, n)
			}
		}
		return name
	}},
}

func meaningless(_ []string, _ body.Side, n int) string { return "joint" + strconv.Itoa(n) }

// renamed copies a scene with every part renamed in a habit.
func renamed(sc *scene.Scene, h habit) *scene.Scene {
	c := *sc
	c.Parts = slices.Clone(sc.Parts)
	paths := scene.NewPaths(1 << 20)
	for i := range c.Parts {
		p := &c.Parts[i]
		var words []string
		for _, w := range body.Words(p.Name) {
			if body.ReadName(w).Side == body.Middle || len(w) > 5 {
				words = append(words, w)
			}
		}
		if len(words) == 0 {
			words = []string{"thing"}
		}
		p.Name = h.write(words, body.ReadName(p.Name).Side, i)
		up := ""
		if p.Parent != scene.NoPart {
			up = c.Parts[p.Parent].Path
		}
		p.Path, _ = paths.Add(up, p.Name)
	}
	return &c
}

// agreement counts what two studies of one motion agree on.
type agreement struct {
	same, all   [5]int
	differences string
}

// The things compared.
const (
	labels = iota
	groups
	points
	chains
	contacts
)

var things = [...]string{"labels", "groups", "points", "chains", "contacts"}

func (a *agreement) count(what int, same bool) {
	a.all[what]++
	if same {
		a.same[what]++
	}
}

func (a *agreement) share(what int) float64 {
	if a.all[what] == 0 {
		return 1
	}
	return float64(a.same[what]) / float64(a.all[what])
}

func (a *agreement) String() string {
	var b strings.Builder
	for i, n := range a.all {
		fmt.Fprintf(&b, " %s %d/%d", things[i], a.same[i], n)
	}
	return b.String()
}

// compare holds the figures of a renamed scene against those of the original.
// Parts of the face are left out where names are the only evidence.
func compare(t *testing.T, was, is *motion.Study, face bool) *agreement {
	a := &agreement{}
	say := func(format string, args ...any) {
		a.differences += fmt.Sprintf(format+"\n", args...)
	}
	for _, f := range was.Figures() {
		g := is.FigureOf(f.Root)
		if g == nil {
			t.Errorf("%s is no figure any more", was.Scene.Parts[f.Root].Path)
			continue
		}
		path := func(p scene.PartID) string { return was.Scene.Parts[p].Path }
		skip := func(l body.Label) bool { return !face && (l.Body.Face() || l.Body == body.Ears) }
		for _, p := range f.Parts {
			l, m := f.LabelOf(p), g.LabelOf(p)
			if l.Body == body.NoBody || skip(l) {
				continue
			}
			if m.Body == body.Strand && l.Body.String() != "" {
				m.Body = l.Body // that it is a chain can be known, not of what
			}
			a.count(labels, l == m)
			if l != m {
				say("label %s: %v -> %v", path(p), l, m)
			}
		}
		for _, h := range f.Groups {
			if h.Label.Body == body.NoBody || skip(h.Label) {
				continue
			}
			o := g.GroupOf(h.Top())
			same := o != nil && (o.Name == h.Name || o.Label.Body == body.Strand) && slices.Equal(moving(was, h.Parts), moving(is, o.Parts))
			a.count(groups, same)
			if !same {
				name := "-"
				if o != nil {
					name = o.Name
				}
				say("group %s %v -> %s", h.Name, len(h.Parts), name)
			}
		}
		for _, p := range f.Points {
			if skip(f.LabelOf(p.Part)) {
				continue
			}
			same := slices.ContainsFunc(g.Points, func(q body.Point) bool {
				return q.Part == p.Part && q.Role == p.Role && q.Side == p.Side && q.Offset == p.Offset
			})
			a.count(points, same)
			if !same {
				say("point %s %v at %s", p.Name, p.Role, path(p.Part))
			}
		}
		for _, c := range f.Chains() {
			if skip(f.LabelOf(c.Parts[0])) {
				continue
			}
			same := slices.ContainsFunc(g.Chains(), func(d body.Chain) bool {
				return d.Flexible == c.Flexible && slices.Equal(c.Parts, d.Parts)
			})
			a.count(chains, same)
			if !same {
				say("chain %s %d", c.Name, len(c.Parts))
			}
		}
		for _, foot := range f.Feet() {
			same := slices.ContainsFunc(g.Feet(), func(o motion.Foot) bool {
				return o.Side == foot.Side && slices.Equal(o.Contacts, foot.Contacts)
			})
			a.count(contacts, same)
			if !same {
				say("foot %s", foot.Name)
			}
		}
	}
	return a
}

func moving(s *motion.Study, parts []scene.PartID) []scene.PartID {
	var out []scene.PartID
	for _, p := range parts {
		if s.Moves(p) {
			out = append(out, p)
		}
	}
	return out
}

// figuresToName are one scene of every kind of figure.
func figuresToName(t *testing.T) map[string]*scene.Scene {
	out := map[string]*scene.Scene{}
	add := func(name string, shot *designed.Shot) {
		var b bytes.Buffer
		if err := write.USDA(&b, shot.Take(24)); err != nil {
			t.Fatal(err)
		}
		out[name] = parse.Parse(name+".usda", b.Bytes(), scene.ReadOptions{})
		b.Reset()
		if err := write.BVH(&b, shot.Take(24)); err == nil {
			out[name+" bvh"] = parse.Parse(name+".bvh", b.Bytes(), scene.ReadOptions{})
		}
	}
	for _, k := range natural.Kinds {
		add(string(k), natural.Shot(k, natural.Options{Seed: 5, Seconds: 6}))
	}
	add("deckhand", designed.Deckhand(designed.SplinePass))
	for _, name := range []string{"01_01.bvh", "01_03.bvh", "Boxing_Toes.bvh"} {
		if b := scenetest.MaybeModel(t, "BVH/"+name); b != nil {
			out[name] = parse.Parse(name, b, scene.ReadOptions{})
		}
	}
	return out
}

// least is what names that say nothing must still agree on, in shares of what
// names tell; see figuresToName. Less than all is explained here.
var least = map[string][5]float64{
	"":             {1, 1, 1, 1, 1},
	"deckhand":     {0.95, 0.85, 1, 1, 1}, // a root that moves belongs to the hips; a rope of one part has no shape
	"deckhand bvh": {0.95, 0.85, 1, 1, 1},
	"shapes":       {0, 0, 0.5, 0, 1}, // two eyes on a stalk: nothing says that it is a face
	"shapes bvh":   {0, 0, 0.5, 0, 1},
	"01_01.bvh":    {0.88, 1, 1, 1, 1}, // a collar bone called a shoulder
	"01_03.bvh":    {0.88, 1, 1, 1, 1},
}

func TestGroupsWithAnyNames(t *testing.T) {
	scenes := figuresToName(t)
	for _, n := range slices.Sorted(maps.Keys(scenes)) {
		was := motion.New(scenes[n], motion.Options{})
		for _, h := range habits {
			silent := h.name == "joint17" || h.name == "half" || h.name == "ends" || h.name == "bicipit"
			is := motion.New(renamed(scenes[n], h), motion.Options{})
			a := compare(t, was, is, h.name != "joint17")
			want := least[""]
			if w, ok := least[n]; ok && silent {
				want = w
			}
			for what := range want {
				if a.share(what) < want[what] {
					t.Errorf("%s, names as in %s: %s agree in %.2f, want %.2f\n%s", n, h.name, things[what], a.share(what), want[what], a.differences)
				}
			}
			t.Logf("%-16s %-9s %s", n, h.name, a)
		}
	}
}

// What a figure without names is made of depends on how it moves: a study that
// is updated after an edit says the same as a new one.
func TestUpdateWithoutNames(t *testing.T) {
	sc := renamed(figuresToName(t)["acting"], habit{"joint17", meaningless})
	s := motion.New(sc, motion.Options{})
	lids := s.Figures()[0].Group("lids")
	if lids == nil {
		t.Fatal("no lids are known by their blinks")
	}
	for _, g := range s.Figures()[0].Groups {
		g.Strokes()
	}
	edited := *sc
	edited.Channels = slices.Clone(sc.Channels)
	var changed []scene.ChannelID
	for id := range edited.Channels {
		c := &edited.Channels[id]
		if slices.Contains(lids.Parts, c.Part) && c.Curve.Len() > 0 {
			c.Curve.Values = slices.Clone(c.Curve.Values)
			for i := range c.Curve.Values {
				c.Curve.Values[i] = 20 * math.Sin(float64(i)/40) // it sways now
			}
			changed = append(changed, scene.ChannelID(id))
		}
	}
	updated, fresh := s.Update(&edited, changed), motion.New(&edited, motion.Options{})
	a, b := updated.Figures()[0], fresh.Figures()[0]
	if fresh.Figures()[0].Group("lids") != nil {
		t.Fatalf("what sways is taken for lids: %v, before %v", fresh.Figures()[0].Group("lids").Parts, lids.Parts)
	}
	if len(a.Groups) != len(b.Groups) {
		t.Fatalf("%d groups, want %d", len(a.Groups), len(b.Groups))
	}
	for i := range a.Groups {
		g, h := a.Groups[i], b.Groups[i]
		if g.Name != h.Name || !slices.Equal(g.Parts, h.Parts) || fmt.Sprint(g.Strokes()) == "" || len(g.Strokes()) != len(h.Strokes()) {
			t.Errorf("group %s %v with %d strokes, want %s %v with %d", g.Name, g.Parts, len(g.Strokes()), h.Name, h.Parts, len(h.Strokes()))
		}
	}
}
