package designed

import "testing"

func TestBake(t *testing.T) {
	for _, c := range []struct{ joints, frames int }{{2, 1}, {64, 10}, {128, 3}} {
		take := Bake(c.joints, c.frames)
		if take.N != c.frames || len(take.Rows) != c.joints {
			t.Errorf("%d joints, %d frames; wanted %d, %d", len(take.Rows), take.N, c.joints, c.frames)
		}
		names := map[string]bool{}
		for i := range take.Shot.Parts {
			names[take.Shot.Parts[i].Name] = true
			if !take.Rows[i].Turns && c.frames > 1 {
				t.Errorf("joint %d does not turn", i)
			}
		}
		if len(names) != c.joints {
			t.Errorf("%d names for %d joints", len(names), c.joints)
		}
	}
}

// BenchmarkBake is the cost of making a bake, to be taken off the cost of
// benchmarks that make one.
func BenchmarkBake(b *testing.B) {
	for b.Loop() {
		Bake(64, 1000)
	}
}
