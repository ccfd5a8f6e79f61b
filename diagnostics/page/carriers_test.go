package page

import (
	"encoding/base64"
	"encoding/binary"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The deckhand is carried by the deck, the gull by nothing; and a place that is taken
// along with the ways of the deck, as the page does, is where the deck takes it.
func TestCarriers(t *testing.T) {
	s := demoShot(t, "deckhand_polish.usda")
	f := decoded(t, s)
	if len(f.Now.Carriers) != 1 || f.Now.Carriers[0].Name != "deck" {
		t.Fatalf("%d carriers", len(f.Now.Carriers))
	}
	for _, fig := range f.Now.Figures {
		if want := map[string]int{"/Tug": 0, "/Gull": -1}; fig.Path == "/Tug" || fig.Path == "/Gull" {
			if fig.Carrier != want[fig.Path] {
				t.Errorf("%s: carrier %d", fig.Path, fig.Carrier)
			}
		}
	}
	raw, err := base64.StdEncoding.DecodeString(f.Now.Carriers[0].Ways)
	if err != nil || len(raw) != 4*12*s.Study.N {
		t.Fatalf("%d bytes, %v", len(raw), err)
	}
	vec := func(frame, k int) r3.Vec {
		v := func(i int) float64 {
			return float64(math.Float32frombits(binary.LittleEndian.Uint32(raw[4*(12*frame+3*k+i):])))
		}
		return r3.Vec{X: v(0), Y: v(1), Z: v(2)}
	}
	sc := s.Study.Scene
	deck, hand, origin := sc.Find("/Shot/deck"), sc.Find("/Tug/hips/spine/chest/clav_l/upperarm_l/forearm_l/hand_l"), newStage(s.Study).origin
	moved := 0.0
	for _, pair := range [][2]int{{0, 40}, {40, 0}, {10, 80}, {60, 60}} {
		from, to := pair[0], pair[1]
		place := s.Study.Worlds(hand, from, from+1)[0].Origin()
		back := s.Study.Worlds(deck, from, from+1)[0].Inverse()
		there := s.Study.Worlds(deck, to, to+1)[0]
		want := there.Point(back.Point(place))
		x, y, z, d := vec(from, 1), vec(from, 2), vec(from, 3), r3.Sub(r3.Sub(place, origin), vec(from, 0))
		volume := r3.Dot(x, r3.Cross(y, z))
		u, v, w := r3.Dot(d, r3.Cross(y, z))/volume, r3.Dot(d, r3.Cross(z, x))/volume, r3.Dot(d, r3.Cross(x, y))/volume
		got := r3.Add(origin, r3.Add(vec(to, 0), r3.Add(r3.Scale(u, vec(to, 1)), r3.Add(r3.Scale(v, vec(to, 2)), r3.Scale(w, vec(to, 3))))))
		if d := r3.Norm(r3.Sub(got, want)); d > 1e-3*f.Now.Figures[0].Size {
			t.Errorf("frames %d to %d: %v, want %v", from, to, got, want)
		}
		moved = max(moved, r3.Norm(r3.Sub(want, place)))
	}
	if moved < 1 {
		t.Errorf("the deck takes nothing anywhere: %g", moved)
	}
}
