package page

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"

	"curvelint/diagnostics"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/report"
)

// Shot is what a page shows of one file.
type Shot struct {
	Study *motion.Study
	// Notes are those to show, in the order in which they are listed.
	Notes []note.Note
	// Before is the earlier pass, nil for none; BeforeNotes are the notes on it.
	Before      *motion.Study
	BeforeNotes []note.Note
}

// Encoded is a shot in the form that the page reads: JSON on one line, safe
// inside a script element. It holds nothing of the study.
type Encoded []byte

// form is the shape of Encoded.
type form struct {
	// Name is the file's. These three come first: the list of shots is made of
	// them without unpacking the rest.
	Name   string     `json:"name"`
	Path   string     `json:"path"`
	Total  int        `json:"total"` // of notes
	Format string     `json:"format"`
	Rate   float64    `json:"rate"`
	Up     [3]float64 `json:"up"`
	// Floor is the height of the floor along Up, nil when there is none.
	Floor *float64 `json:"floor"`
	// Flat is true when positions lie in the picture rather than in the world.
	Flat   bool      `json:"flat"`
	Camera *cameraOf `json:"camera"` // nil when there is none
	Now    *cast     `json:"now"`    // nil for a file without motion
	Before *earlier  `json:"before"`
	Notes  []listed  `json:"notes"`
	Change *changes  `json:"change"`
}

// earlier is the earlier pass, and where it stands against the later one.
type earlier struct {
	cast
	// Against gives, for the frame of index i of the later pass, the index of one
	// of the earlier: Against[0] + Against[1] i, between frames as a rule.
	Against [2]float64 `json:"against"`
}

// Encode returns the form of a shot. Positions are kept to the 65,000th part of
// how far a part travels about the root of its figure. The error may be that of the
// context.
func Encode(ctx context.Context, s *Shot) (Encoded, error) {
	study := s.Study
	f := newForm(report.OfResult(&diagnostics.Result{Study: study}, s.Notes))
	if study.N == 0 {
		return f.encode()
	}
	c := newStage(study)
	if len(c.parts) == 0 {
		return f.encode()
	}
	up := study.Up()
	f.Rate, f.Up = study.Rate, [3]float64{up.X, up.Y, up.Z}
	f.Now = c.encode()
	f.Floor, f.Flat = c.floor(), c.flat()
	f.Camera = c.camera()
	f.aim(c, s.Notes)
	if s.Before != nil && s.Before.N > 0 {
		if err := f.compare(ctx, c, s); err != nil {
			return nil, err
		}
	}
	return f.encode()
}

// EncodeFile returns the form of a file without motion: its notes alone.
func EncodeFile(r *report.File) (Encoded, error) { return newForm(r).encode() }

func newForm(r *report.File) *form {
	return &form{Name: filepath.Base(r.Path), Path: r.Path, Total: len(r.Notes), Format: r.Format, Notes: listNotes(r.Notes)}
}

func (f *form) encode() (Encoded, error) {
	// The encoder writes <, > and & as escapes, so that no text can end the
	// script element that holds it.
	b, err := json.Marshal(f)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be shown: %w", f.Path, err)
	}
	return Encoded(bytes.TrimSpace(b)), nil
}

// compare adds the earlier pass and what changed since. The error is that of the
// context, when it ends first.
func (f *form) compare(ctx context.Context, now *stage, s *Shot) error {
	c, err := passes.Compare(ctx, s.Before, s.Study, s.BeforeNotes, s.Notes, passes.Options{})
	if err != nil {
		return err
	}
	f.Change = newChanges(now, c)
	f.markNew(s.Notes, c.Notes.New)
	if c.Reference || c.Unrelated != "" {
		return nil // another figure, perhaps: only the timing is compared
	}
	before := newStage(s.Before)
	before.onto, before.origin = between(s.Before, s.Study), now.origin
	start := c.WasAt(s.Study.First) - s.Before.First
	f.Before = &earlier{cast: *before.encode(), Against: [2]float64{start, c.WasAt(s.Study.First+1) - s.Before.First - start}}
	return nil
}
