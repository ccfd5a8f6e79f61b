// Package pictures draws, for the documents of the checks, what each check
// finds: a scene of the corpus with the flaw in it, as the tool itself sees and
// marks it, and where it helps the same motion properly animated behind it.
package pictures

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"curvelint/cmd/lab/corpus"
	"curvelint/diagnostics"
	"curvelint/diagnostics/chart"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:generate go run ./generate ../../../../diagnostics/checks
//go:generate go run ./generate -thresholds ../../../../diagnostics/checks

// The size of a picture in pixels: as wide as a document's column.
const width, height = 640, 300

// seeds bounds how many scenes are tried for one that shows the flaw alone.
const seeds = 24

// longest is the longest stretch of a note that is shown, in seconds.
const longest = 2.5

// Picture is the picture of one check.
type Picture struct {
	Check string
	SVG   []byte
	// Message is what the check says of what is drawn, and Proper is true when
	// the same motion stands behind it, properly animated.
	Message string
	Proper  bool
}

// File is where a picture lies, seen from the documents.
func (p *Picture) File() string { return "pictures/" + p.Check + ".svg" }

// Alt says in a sentence what the picture shows.
func (p *Picture) Alt() string {
	s := strings.ToUpper(p.Message[:1]) + p.Message[1:]
	if p.Proper {
		s += kit.Dashed + " the same move, properly animated"
	}
	return s + "."
}

// found is a scene of the corpus with the note that its flaw gives.
type found struct {
	study  *motion.Study
	note   note.Note
	proper *motion.Study
}

// ErrUnseen is given for a check that finds its flaw in no scene of the corpus.
var ErrUnseen = errors.New("no scene of the corpus shows it")

// Draw draws the picture of one of Checks.
func Draw(ctx context.Context, check string) (*Picture, error) {
	v, ok := views[check]
	if !ok {
		v = view{"timeline", false, 0.5}
	}
	f, err := look(ctx, check, v)
	if err != nil {
		return nil, err
	}
	kind, _ := chart.KindOf(v.kind)
	part, _ := chart.Subject(f.study, v.kind, f.note.PartID)
	o := chart.Options{Width: width, Height: height, Notes: []note.Note{f.note}, Keys: [2]string{"flawed", "proper"}}
	first, last := v.frames(f.study, &f.note)
	if v.proper && f.proper != nil && alike(f, first, last) {
		o.Before = f.proper
	}
	svg, err := kind.Draw(f.study, part, first, last, o)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", check, err)
	}
	return &Picture{check, svg, f.note.Message, o.Before != nil}, nil
}

// alike reports whether the part moves about as far in the proper scene: where
// chance has put its move elsewhere there is nothing to compare.
func alike(f *found, first, last float64) bool {
	way := func(s *motion.Study, p scene.PartID) float64 {
		t := facts.LeadingTrack(s, p)
		if t == nil {
			return 0
		}
		return t.PathLength(s.Index(first), s.Index(last))
	}
	p := f.proper.Scene.Find(f.study.Scene.Parts[f.note.PartID].Path)
	if p == scene.NoPart {
		return false
	}
	was, is := way(f.proper, p), way(f.study, f.note.PartID)
	return was > 0.4*is && is > 0.1*was
}

// frames is the stretch to show around a note.
func (v view) frames(s *motion.Study, n *note.Note) (first, last float64) {
	pad := math.Round(v.pad * s.Rate)
	end := math.Min(n.Last, n.First+math.Round(longest*s.Rate))
	return math.Max(math.Ceil(n.First)-pad, s.First), math.Min(math.Floor(end)+pad, s.Frame(s.N-1))
}

// look finds a scene at film or television rate in which the check gives the
// note that was planted and nothing else is noted, or as little as can be.
func look(ctx context.Context, check string, v view) (*found, error) {
	if _, ok := small[check]; ok {
		return lookSmall(ctx, check)
	}
	var best *found
	least := math.MaxInt
	for seed := range seeds {
		c, err := corpus.Make(check, seed, true)
		if err != nil {
			return nil, err
		}
		if c.Rate > 30 {
			continue
		}
		f, others := judge(ctx, &c, v)
		if f == nil || others >= least {
			continue
		}
		near, err := corpus.Make(check, seed, false)
		if err != nil {
			return nil, err
		}
		f.proper = study(ctx, &near).Study
		if first, last := v.frames(f.study, &f.note); v.proper && !alike(f, first, last) {
			others += 2 // better one with a proper move beside it
		}
		if strings.Contains(f.note.Message, "ferry") {
			others++ // rather a name without a prefix
		}
		if others >= least {
			continue
		}
		best, least = f, others
		if others == 0 {
			break
		}
	}
	if best == nil {
		return nil, fmt.Errorf("%s: %w", check, ErrUnseen)
	}
	return best, ctx.Err()
}

func study(ctx context.Context, c *corpus.Case) *diagnostics.Result {
	return diagnostics.Judge{Config: &c.Config}.Scene(ctx, diagnostics.Read(c.File, c.Text, &c.Config, nil))
}

// judge returns the planted note of a case, where it can be drawn, and how many
// others there are.
func judge(ctx context.Context, c *corpus.Case, v view) (f *found, others int) {
	r := study(ctx, c)
	for _, n := range r.Notes {
		at := n.First - r.Study.First
		_, drawn := chart.Subject(r.Study, v.kind, n.PartID)
		if f == nil && n.Check == c.Check && drawn && at <= float64(c.Last)+2 && n.Last-r.Study.First >= float64(c.First)-2 {
			f = &found{study: r.Study, note: n}
			continue
		}
		others++
	}
	return f, others
}
