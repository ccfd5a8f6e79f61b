package track

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

var upY = r3.Vec{Y: 1}

// foot builds the path of a foot that takes steps of half a figure size: planted
// for stand seconds, then carried on in lift seconds, 0.1 high. Invented data.
func foot(rate, seconds, stand, lift, delay float64) *Track {
	return sampled(rate, seconds, func(s float64) r3.Vec {
		s -= delay
		n := math.Floor(s / (stand + lift))
		u := min(max((s-n*(stand+lift)-stand)/lift, 0), 1)
		return r3.Vec{X: 0.5 * (n + minimumJerk(u)), Y: 0.1 * math.Sin(math.Pi*minimumJerk(u))}
	})
}

func TestFootContacts(t *testing.T) {
	for _, rate := range rates {
		k := foot(rate, 3.5, 0.6, 0.4, 0)
		c := k.FootContacts(upY)
		if len(c) != 4 {
			t.Fatalf("rate %g: contacts %v", rate, c)
		}
		for i, x := range c {
			// It may not land before it stands still nor lift much before it goes.
			a, b := float64(x.First)/rate, float64(x.Last)/rate
			if i > 0 && !about(a, float64(i), 0.05) || i < 3 && !about(b, float64(i)+0.6, 0.07) {
				t.Errorf("rate %g: contact %d from %g to %g s", rate, i, a, b)
			}
			if s := k.Slip(x, upY); s.Net > 1e-3 {
				t.Errorf("rate %g: a planted foot slips %+v", rate, s)
			}
		}
	}
}

func TestSlidingFoot(t *testing.T) {
	// Planted for a second while it slides 0.2 a second.
	k := sampled(24, 2, func(s float64) r3.Vec {
		return r3.Vec{X: 0.2*max(s-1, 0) + minimumJerk(s/0.5), Y: 0.2 * math.Sin(math.Pi*minimumJerk(s/0.5))}
	})
	c := k.FootContacts(upY)
	if len(c) != 1 || c[0].Last != 48 {
		t.Fatalf("contacts %v", c)
	}
	// The last 2/24 s do not count.
	if s := k.Slip(c[0], upY); !about(s.Net, 0.2*22/24, 1e-9) || s.Last != 46 {
		t.Errorf("%+v", s)
	}
	if s := k.Slip(Contact{10, 13}, upY); s.Net != 0 {
		t.Errorf("a contact of landing and rolling slips: %+v", s)
	}
	if s := k.Slip(c[0], r3.Vec{X: 1}); !about(s.Net, 0, 1e-9) {
		t.Errorf("rising is no slip: %+v", s)
	}
}

func TestContactLimits(t *testing.T) {
	slow := slices.Repeat([]float64{0.04 / 24}, 24)
	for _, c := range []struct {
		name string
		s    []float64
		want []Contact
	}{
		{"never slow", slices.Repeat([]float64{0.06 / 24}, 24), nil},
		{"slow, then faster but not fast", slices.Concat(slow, slices.Repeat([]float64{0.2 / 24}, 24)), []Contact{{0, 48}}},
		{"slow, then fast", slices.Concat(slow, slices.Repeat([]float64{0.26 / 24}, 24)), []Contact{{0, 24}}},
		{"faster, then slow", slices.Concat(slices.Repeat([]float64{0.2 / 24}, 24), slow), []Contact{{24, 48}}},
		{"two frames", slices.Concat([]float64{1}, make([]float64, 2), []float64{1}), nil},
		{"three frames", slices.Concat([]float64{1}, make([]float64, 3), []float64{1}), []Contact{{1, 4}}},
	} {
		k := fromSpacing(c.s...)
		if got := k.contacts(make([]float64, k.Len()), 0); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	k := fromSpacing(slow...)
	if got := k.contacts(make([]float64, 3), 0); got != nil {
		t.Errorf("heights of another length: %v", got)
	}
	h := make([]float64, k.Len())
	h[10] = 0.021
	if got := k.contacts(h, floorReach); !slices.Equal(got, []Contact{{0, 9}, {11, 24}}) {
		t.Errorf("a point that lifts: %v", got)
	}
	if got := k.FloorContacts(upY, -0.01); !slices.Equal(got, []Contact{{0, 24}}) {
		t.Errorf("a point on the floor: %v", got)
	}
	if got := k.FloorContacts(upY, -0.03); got != nil {
		t.Errorf("a point above the floor: %v", got)
	}
}

func TestMergeContacts(t *testing.T) {
	got := MergeContacts([]Contact{{0, 5}, {20, 25}}, []Contact{{4, 9}, {9, 12}, {30, 31}})
	if want := []Contact{{0, 12}, {20, 25}, {30, 31}}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	for f, want := range map[int]bool{-1: false, 0: true, 12: true, 13: false, 22: true, 31: true, 32: false} {
		if ContactAt(got, f) != want {
			t.Errorf("ContactAt(%d) is %v", f, !want)
		}
	}
	if len(MergeContacts()) != 0 || ContactAt(nil, 0) {
		t.Error("contacts from nothing")
	}
}

func TestLocomotion(t *testing.T) {
	left, right := foot(24, 4, 0.6, 0.4, 0), foot(24, 4, 0.6, 0.4, 0.5)
	if !Locomotion(left.FootContacts(upY), right.FootContacts(upY)) {
		t.Error("a walk is none")
	}
	hop := foot(24, 4, 0.6, 0.4, 0)
	for name, feet := range map[string][][]Contact{
		"nothing":                nil,
		"one foot":               {hop.FootContacts(upY)},
		"a jump with both feet":  {hop.FootContacts(upY), hop.FootContacts(upY)},
		"landing a frame apart":  {{{0, 20}, {40, 60}, {80, 99}}, {{1, 20}, {41, 60}, {81, 99}}},
		"standing":               {{{0, 90}}, {{2, 90}}},
		"one step":               {{{0, 20}, {40, 90}}, {{0, 90}}},
		"two steps, one to stop": {{{0, 20}, {40, 60}}, {{10, 50}}},
	} {
		if Locomotion(feet...) {
			t.Errorf("%s is a walk", name)
		}
	}
}
