package diagnostics_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// randomEdit changes a digit of a number in the text of a scene: of a key, of a
// value that stands still, or of anything.
func randomEdit(r *rand.Rand, sc *scene.Scene) scene.Edit {
	text := sc.Files[0].Text
	from, to := 0, len(text)
	part := &sc.Parts[r.IntN(len(sc.Parts))]
	switch n, what := len(sc.Channels), r.IntN(4); {
	case what == 0 && len(part.Ops) > 0:
		if at := part.Ops[r.IntN(len(part.Ops))].Span; at.File == 0 && !at.Empty() && at.End-at.Start < 80 {
			from, to = int(at.Start), int(at.End)
		}
	case what > 1 && n > 0:
		id := scene.ChannelID(r.IntN(n))
		c := &sc.Channels[id].Curve
		if at := sc.KeySpan(id, r.IntN(c.Len()), r.IntN(c.Stride)); at.File == 0 && !at.Empty() && at.End-at.Start < 40 {
			from, to = int(at.Start), int(at.End)
		}
	}
	for range 1000 {
		if i := from + r.IntN(to-from); text[i] >= '0' && text[i] <= '9' {
			return scene.Edit{Start: i, End: i + 1, New: []byte{'0' + byte(r.IntN(10))}}
		}
	}
	return scene.Edit{New: []byte{}}
}

// After any run of edits, what is taken over from earlier studies gives the
// notes of a fresh study, and the tracks of parts that no edit touched are the
// same ones.
func TestRestudyIsFresh(t *testing.T) {
	take := natural.Shot(natural.Step, natural.Options{Seed: 5, Seconds: 4, Names: designed.Snake}).Take(24)
	for _, f := range []struct {
		name  string
		write func(io.Writer, *designed.Take) error
	}{{"step.bvh", write.BVH}, {"step.usda", write.USDA}, {"skeleton.usda", write.USDASkeleton}, {"step.dae", write.COLLADA}, {"step.x3d", write.X3D}, {"step.csv", write.Table}, {"keyed.usda", write.USDAKeyed}} {
		t.Run(f.name, func(t *testing.T) {
			t.Parallel()
			var text bytes.Buffer
			if err := f.write(&text, take); err != nil {
				t.Fatal(err)
			}
			sc := diagnostics.Read(f.name, text.Bytes(), &config.Config{}, nil)
			study, _ := diagnostics.Judge{Config: &config.Config{}}.Study(sc)
			notesOn(study)
			r := rand.New(rand.NewPCG(3, 4))
			still := 0
			for i, taken := 0, 0; taken < 25 && i < 200; i++ {
				re, ok := parse.Reread(sc, randomEdit(r, sc))
				if !ok {
					continue
				}
				taken++
				still += len(re.Parts)
				next := study.Update(re.Scene, re.Changed, re.Parts...)
				notes := notesOn(next)
				fresh, _ := diagnostics.Judge{Config: &config.Config{}}.Study(re.Scene)
				if d := cmp.Diff(notesOn(fresh), notes); d != "" {
					t.Fatalf("edit %d, channels %v, parts %v: notes differ from a fresh study's:\n%s", i, re.Changed, re.Parts, d)
				}
				checkTakenOver(t, study, next, re)
				sc, study = re.Scene, next
			}
			if f.name == "step.usda" && still == 0 {
				t.Error("no edit changed a value that stands still")
			}
		})
	}
}

func notesOn(study *motion.Study) []note.Note {
	return diagnostics.Judge{Config: &config.Config{}, Selection: diagnostics.Selection{}}.Notes(context.Background(), study).Notes
}

// checkTakenOver checks that rotations of parts that an edit did not touch are
// those of the study before, and that the others are not.
func checkTakenOver(t *testing.T, before, after *motion.Study, re scene.Reread) {
	t.Helper()
	touched := map[scene.PartID]bool{}
	for _, p := range re.Parts {
		touched[p] = true
	}
	for _, id := range re.Changed {
		touched[re.Scene.Channels[id].Part] = true
	}
	for p := range re.Scene.Parts {
		id := scene.PartID(p)
		was, is := before.RotationTrack(id), after.RotationTrack(id)
		if was != nil && is != nil && (was == is) == touched[id] {
			t.Fatalf("part %s, touched: %v, was studied anew: %v", re.Scene.Parts[p].Path, touched[id], was != is)
		}
	}
}

// BenchmarkRestudy changes one number in the middle of bakes and gives the notes
// again; ratio says how many times faster than reading and studying all.
func BenchmarkRestudy(b *testing.B) {
	for _, frames := range []int{130, 2500, 10000} {
		var text bytes.Buffer
		if err := write.BVH(&text, designed.Bake(64, frames)); err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprint(frames), func(b *testing.B) { benchmarkRestudy(b, text.Bytes()) })
	}
}

func benchmarkRestudy(b *testing.B, raw []byte) {
	cfg := &config.Config{}
	var whole, edited timing
	for b.Loop() {
		whole.start()
		sc := diagnostics.Read("bake.bvh", raw, cfg, nil)
		study, _ := diagnostics.Judge{Config: cfg}.Study(sc)
		notesOn(study)
		whole.stop()
		at := sc.KeySpan(60, sc.Channels[60].Curve.Len()/2, 0)
		digit := scene.Edit{Start: int(at.End) - 1, End: int(at.End), New: []byte("5")}
		edited.start()
		re, ok := parse.Reread(sc, digit)
		if !ok {
			b.Fatal("the edit cannot be read alone")
		}
		notesOn(study.Update(re.Scene, re.Changed, re.Parts...))
		edited.stop()
	}
	b.ReportMetric(float64(whole.best)/float64(edited.best), "ratio")
	b.ReportMetric(float64(edited.best.Microseconds())/1000, "edit-ms")
	b.ReportMetric(0, "ns/op")
}
