package write_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/passes/write"
)

// swinging writes a BVH of an arm whose numbers come from value, by frame and channel.
func swinging(frames int, interval string, value func(frame, channel int) string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "HIERARCHY\nROOT hips\n{\n\tOFFSET 0 90 0\n\tCHANNELS 6 Xposition Yposition Zposition Zrotation Xrotation Yrotation\n"+
		"\tJOINT hand\n\t{\n\t\tOFFSET 0 20 0\n\t\tCHANNELS 3 Zrotation Xrotation Yrotation\n\t\tEnd Site\n\t\t{\n\t\t\tOFFSET 0 10 0\n\t\t}\n\t}\n}\n"+
		"MOTION\nFrames: %d\nFrame Time: %s\n", frames, interval)
	for f := range frames {
		for c := range 9 {
			fmt.Fprint(&b, value(f, c), " ")
		}
		b.WriteString("\n")
	}
	return []byte(b.String())
}

// noNumber is what people call nothing that can be measured.
var noNumber = regexp.MustCompile(`\b(NaN|[+-]?Inf|<nil>|%!|unknown|infinite)`)

// Whatever is compared, no form of it has a number that is none: passes of no frame
// and of one, that stand still, jump, tremble, and lie beyond all measure.
func TestNumbersAreNumbers(t *testing.T) {
	number := func(format string, v ...any) string { return fmt.Sprintf(format, v...) }
	scenes := map[string][]byte{
		"no frame":  swinging(0, "0.0416667", nil),
		"one frame": swinging(1, "0.0416667", func(f, c int) string { return "1" }),
		"two":       swinging(2, "0.0416667", func(f, c int) string { return number("%d", f*(c+1)) }),
		"still":     swinging(40, "0.0416667", func(f, c int) string { return number("%d", c) }),
		"jump":      swinging(40, "0.0416667", func(f, c int) string { return number("%d", 40*(f/20)) }),
		"jumps":     swinging(40, "0.0333333", func(f, c int) string { return number("%d", 40*(f/7%2)) }),
		"even":      swinging(60, "0.0416667", func(f, c int) string { return number("%d", 2*min(max(f-10, 0), 20)) }),
		"huge":      swinging(40, "0.0416667", func(f, c int) string { return number("%de300", f) }),
		"tiny":      swinging(40, "0.0416667", func(f, c int) string { return number("%de-300", f) }),
		"slow":      swinging(40, "1000000", func(f, c int) string { return number("%d", f*f) }),
		"fast":      swinging(40, "0.000001", func(f, c int) string { return number("%d", f*f) }),
	}
	for seed := range uint64(4) {
		r := rand.New(rand.NewPCG(seed, 3))
		at := [9]float64{}
		scenes[fmt.Sprintf("tremble %d", seed)] = swinging(50, "0.0416667", func(f, c int) string {
			if r.IntN(5) > 0 {
				at[c] += r.NormFloat64() * 5
			}
			return number("%.3f", at[c])
		})
	}
	cfg := &config.Config{}
	results := map[string]*diagnostics.Result{}
	for name, text := range scenes {
		results[name] = diagnostics.Judge{Config: cfg}.Scene(t.Context(), diagnostics.Read(name+".bvh", text, cfg, nil))
	}
	for before, a := range results {
		for after, b := range results {
			for _, o := range []passes.Options{{}, {Reference: true}} {
				c, err := passes.Compare(t.Context(), a.Study, b.Study, a.Notes, b.Notes, o)
				if err != nil {
					t.Fatal(err)
				}
				for _, format := range write.Formats {
					var out bytes.Buffer
					if err := write.Comparison(format, &out, c); err != nil {
						t.Errorf("%s against %s as %s: %v", after, before, format, err)
					}
					if found := noNumber.Find(out.Bytes()); found != nil {
						t.Errorf("%s against %s as %s has a %s:\n%s", after, before, format, found, excerpt(out.String(), string(found)))
					}
				}
				for i := range c.Parts {
					line := passes.PartChange(c, c.Parts[i].Path)
					if noNumber.MatchString(line) {
						t.Errorf("%s against %s: %s", after, before, line)
					}
				}
			}
		}
	}
}

// Seconds are only claimed: two short passes that say to last a year take no more
// memory than two that last a second.
func TestClaimedSeconds(t *testing.T) {
	memory := func(interval string) uint64 {
		value := func(f, c int) string { return fmt.Sprint((f*f + c*f) % 17) }
		cfg := &config.Config{}
		a := diagnostics.Judge{Config: cfg}.Scene(t.Context(), diagnostics.Read("a.bvh", swinging(40, interval, value), cfg, nil))
		b := diagnostics.Judge{Config: cfg}.Scene(t.Context(), diagnostics.Read("b.bvh", swinging(30, interval, value), cfg, nil))
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if _, err := passes.Compare(t.Context(), a.Study, b.Study, a.Notes, b.Notes, passes.Options{}); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	short := memory("0.0416667")
	for _, interval := range []string{"1000000", "0.000001"} {
		if long := memory(interval); long > 2*short+1<<20 {
			t.Errorf("frames of %s s take %d bytes, of a twenty-fourth %d", interval, long, short)
		}
	}
}

// excerpt is the line in which a word stands.
func excerpt(s, word string) string {
	for line := range strings.Lines(s) {
		if strings.Contains(line, word) {
			return line
		}
	}
	return ""
}
