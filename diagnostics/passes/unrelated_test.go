package passes_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/cmd/lab/scenetest"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/passes"
)

// natured writes a natural shot as BVH.
func natured(t *testing.T, kind natural.Kind, seed designed.Seed) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write.BVH(&b, natural.Shot(kind, natural.Options{Seed: seed, Seconds: 6}).Take(24)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// retimed writes the frames of a BVH at 24 frames a second that come sooner and later
// in turn, by up to the given time in seconds, with everything larger by a factor.
func retimed(t *testing.T, src []byte, by, larger float64) []byte {
	t.Helper()
	return lines(src, "0.0416667", func(rows []string) (out []string) {
		values := make([][]float64, len(rows))
		for i, row := range rows {
			for _, word := range strings.Fields(row) {
				v, err := strconv.ParseFloat(word, 64)
				if err != nil {
					t.Fatal(err)
				}
				values[i] = append(values[i], v)
			}
		}
		for i := range rows {
			x := math.Min(math.Max(float64(i)+24*by*math.Sin(float64(i)/12), 0), float64(len(rows)-1))
			j := min(int(x), len(rows)-2)
			var b strings.Builder
			for c := range values[i] {
				v := values[j][c] + (x-float64(j))*(values[j+1][c]-values[j][c])
				fmt.Fprintf(&b, "%.5f ", values[0][c]+larger*(v-values[0][c]))
			}
			out = append(out, b.String())
		}
		return out
	})
}

// What is a pass of the shot is compared, however it was retimed or pushed; what is
// another performance of the same figure is not.
func TestUnrelatedPasses(t *testing.T) {
	cfg := &config.Config{}
	for _, kind := range []natural.Kind{natural.Acting, natural.Step, natural.Work, natural.Graze} {
		src := natured(t, kind, 5)
		was := read(t, "was.bvh", src, cfg)
		tests := []struct {
			what    string
			now     []byte
			related bool
		}{
			{"itself", src, true},
			{"retimed by 4 frames, smaller", retimed(t, src, 4.0/24, 0.8), true},
			{"retimed by 6 frames, larger", retimed(t, src, 6.0/24, 1.4), true},
			{"another performance", natured(t, kind, 6), false},
			{"one more", natured(t, kind, 7), false},
		}
		for _, tt := range tests {
			c := compared(t, was.study, read(t, "now.bvh", tt.now, cfg).study, nil, nil, passes.Options{})
			if (c.Unrelated == "") != tt.related {
				t.Errorf("%s against %s: unrelated %q", kind, tt.what, c.Unrelated)
			}
			if c.Unrelated != "" && (len(c.Beats)+len(c.Parts)+len(c.Orders)+len(c.Holds)+c.Compared != 0 || c.Empty() || c.SameTiming()) {
				t.Errorf("%s against %s: compared all the same: %+v", kind, tt.what, c)
			}
		}
	}
}

// Captures of other moves, and of other people, are no reference.
func TestUnrelatedReference(t *testing.T) {
	cfg := &config.Config{}
	walk, jump := scenetest.Model(t, "BVH/01_01.bvh"), scenetest.Model(t, "BVH/01_03.bvh")
	boxer := read(t, "boxer.bvh", scenetest.Model(t, "BVH/Boxing_Toes.bvh"), cfg)
	polish := shot(t, "deckhand_polish.usda")
	tests := []struct {
		name        string
		before, now pass
		reference   bool
		word        string
	}{
		{"two captures as passes", read(t, "walk.bvh", walk, cfg), read(t, "jump.bvh", jump, cfg), false, "two passes of one shot"},
		{"two captures as reference", read(t, "walk.bvh", walk, cfg), read(t, "jump.bvh", jump, cfg), true, "reference of the same action"},
		{"a boxer for a deckhand", boxer, polish, false, "reference of the same action"},
		{"a boxer for a deckhand, asked for", boxer, polish, true, "reference of the same action"},
	}
	for _, tt := range tests {
		c := compared(t, tt.before.study, tt.now.study, nil, nil, passes.Options{Reference: tt.reference})
		if !strings.Contains(c.Unrelated, tt.word) || !strings.Contains(c.Unrelated, "; give ") || len(c.Beats)+c.ComparedBeats != 0 || c.Shift != 0 {
			t.Errorf("%s: %q, %d beats, shift %g", tt.name, c.Unrelated, len(c.Beats), c.Shift)
		}
	}
}

// A reference of the same action counts, though the body is another and the timing
// was pushed.
func TestRelatedReference(t *testing.T) {
	p := shot(t, "deckhand_polish.bvh")
	text := retimed(t, demoText(t, "deckhand_polish.bvh"), 3.0/24, 1.3)
	r := read(t, "take.bvh", []byte(strings.ReplaceAll(string(text), "hips", "pelvis")), settings(t))
	for _, reference := range []bool{false, true} {
		if c := compared(t, r.study, p.study, nil, nil, passes.Options{Reference: reference}); c.Unrelated != "" {
			t.Errorf("reference %v: %s", reference, c.Unrelated)
		}
	}
}

// ending is a context that ends when it has been asked a number of times.
type ending struct {
	context.Context
	left int
}

func (e *ending) Err() error {
	if e.left--; e.left < 0 {
		return context.Canceled
	}
	return nil
}

// A comparison ends with its context, wherever it is.
func TestCompareEndsWithItsContext(t *testing.T) {
	a, b := shot(t, "deckhand_spline.usda"), shot(t, "deckhand_polish.usda")
	for _, o := range []passes.Options{{}, {Reference: true}} {
		whole := &ending{t.Context(), 1 << 30}
		if _, err := passes.Compare(whole, a.study, b.study, a.notes, b.notes, o); err != nil {
			t.Fatal(err)
		}
		asked := 1<<30 - whole.left
		if asked < 20 {
			t.Errorf("%+v: the context is asked %d times only", o, asked)
		}
		for n := 0; n < asked; n += 1 + asked/12 {
			ctx := &ending{t.Context(), n}
			c, err := passes.Compare(ctx, a.study, b.study, a.notes, b.notes, o)
			if !errors.Is(err, context.Canceled) || c != nil {
				t.Errorf("%+v: ended at %d of %d: %v, %v", o, n, asked, c, err)
			}
			// What was begun is left, not finished in vain.
			if more := -ctx.left; more > 12 {
				t.Errorf("%+v: ended at %d of %d, asked %d times more", o, n, asked, more)
			}
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := passes.NewNotes(ctx, a.study, b.study, a.notes, b.notes); !errors.Is(err, context.Canceled) {
		t.Errorf("NewNotes: %v", err)
	}
}
