package noise

import (
	"math"

	"curvelint/diagnostics/motion/solve"
	"curvelint/parse/scene"
)

// sameSpline reports whether one segment from key a to key b, with the handles
// they have towards each other, goes where those between them go. Slopes have
// digits of their own, which tell the more the longer the segment is.
func sameSpline(k *scene.Curve, a, b int, limit float64) bool {
	one := joined(k, a, b)
	slack := limit + min(k.Step/2*idleKeySlopeError.Value*(k.Times[b]-k.Times[a]), 2*limit)
	var got, want [1]float64
	stride := 1 + (b-a)/int(idleKeySegments.Value)
	for j := b - 1; j >= a; j -= stride { // the newest first
		d := k.Times[j+1] - k.Times[j]
		looks := int(idleKeyLooks.Value)
		for n := range looks {
			t := k.Times[j] + d*float64(n+1)/float64(looks)
			if !solve.EvalCurve(k, t, want[:]) || !solve.EvalCurve(one, t, got[:]) || math.Abs(got[0]-want[0]) > slack {
				return false
			}
		}
	}
	return true
}

// joined is the curve of the keys a and b alone. Handles without a time are a third
// of their segment, so that they grow with it and keep their slope.
func joined(k *scene.Curve, a, b int) *scene.Curve {
	h := k.Handles
	out, in := h.OutV[a], h.InV[b]
	one := &scene.Curve{
		Times: []float64{k.Times[a], k.Times[b]}, Values: []float64{k.Value(a), k.Value(b)},
		Stride: 1, Default: scene.Bezier, Handles: &scene.Handles{},
	}
	if h.OutT == nil {
		d := k.Times[b] - k.Times[a]
		out *= d / (k.Times[a+1] - k.Times[a])
		in *= d / (k.Times[b] - k.Times[b-1])
	} else {
		one.Handles.OutT, one.Handles.InT = []float64{h.OutT[a], 0}, []float64{0, h.InT[b]}
	}
	one.Handles.OutV, one.Handles.InV = []float64{out, 0}, []float64{0, in}
	return one
}
