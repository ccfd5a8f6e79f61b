package passes

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/words"
)

// Two files that have nothing to do with each other can still be compared stroke by
// stroke: something always moves at about the same time. What then comes out is
// absurd, so that it is not told. The limits were measured on three captures and on
// invented shots, 1,000 pairs: against copies of themselves, retimed by up to a quarter
// of a second here and there and made smaller or larger, and against other shots of the
// same and of other figures.
const (
	// leastAgreement is how alike the poses of two passes must be: the mean
	// correlation of the turns of their parts. Passes have 0.5 and more, other
	// performances of one figure 0.0 give or take 0.2, walks of one figure up to 0.5.
	leastAgreement = 0.25
	// agreementLater is the same after a shift that was looked for: the best of many
	// is higher by chance.
	agreementLater = 0.5
	// enoughTurns is how many parts must turn for that mean to say something.
	enoughTurns = 6
	// leastLikeness is the same for the speeds of a reference: that of the same
	// action has 0.6 as a rule, chance 0.4, so that it does not decide alone.
	leastLikeness = 0.5
	// farBeats is how far apart in seconds beats lie, in the median, that are not
	// the same. Retimed ones are a quarter of a second apart at most.
	farBeats = 0.5
	// posesGrid is how often poses are looked at, in samples a second: never more often
	// than a pass has frames, whose seconds are only what its file claims.
	posesGrid = 12.0
	// blur is over how long speeds are averaged, in seconds, so that a beat that
	// comes a few frames later is still like itself.
	blur = 0.1
)

// unlikePasses says why two files with the same parts are no passes of one shot, ""
// when they are or when too little turns to tell.
func unlikePasses(ctx context.Context, pairs []*trackPair, k *clock) string {
	r, n := agreementOfPoses(pairs, k)
	if n < enoughTurns || r >= leastAgreement {
		return ""
	}
	// A pass may begin much later or sooner.
	moved := *k
	moved.shift = coarseShift(ctx, slices.DeleteFunc(slices.Clone(pairs), func(p *trackPair) bool { return p.motion != Path }), k)
	if late, n := agreementOfPoses(pairs, &moved); n >= enoughTurns && late >= agreementLater {
		return ""
	}
	return fmt.Sprintf("expected two passes of one shot, found poses that have nothing in common (they agree to %s over %s); "+
		"give an earlier pass of this shot, or the same action by someone else with --reference", percent(r), words.Count(n, "part"))
}

// unlikeReference says why a reference does not belong to a pass, "" when it does.
// Apart are the distances of its beats in seconds.
func unlikeReference(c *Comparison, parts *partMatch, pairs []*trackPair, k *clock, apart []float64) string {
	const advice = "; give captured motion of this action, or points tracked in its picture"
	if len(pairs) == 0 {
		return "expected a reference of the same kind of body, found no point that moves in both" + advice
	}
	like := likenessOfSpeeds(pairs, k)
	if like >= leastLikeness {
		return ""
	}
	if r, n := agreementOfPoses(pairTracks(c.Before, c.After, parts), k); n >= enoughTurns && parts.shared() >= leastShared {
		if r >= leastAgreement {
			return ""
		}
		return fmt.Sprintf("expected a reference of the same action, found poses that have nothing in common (they agree to %s over %s)%s", percent(r), words.Count(n, "part"), advice)
	}
	slices.Sort(apart)
	switch {
	case len(apart) == 0:
		return fmt.Sprintf("expected a reference of the same action, found no beat in both%s", advice)
	case apart[len(apart)/2] > farBeats:
		return fmt.Sprintf("expected a reference of the same action, found beats that lie %s apart%s", words.Seconds(apart[len(apart)/2]), advice)
	}
	return ""
}

// percent writes an agreement; below nothing there is nothing.
func percent(r float64) string { return words.Percent(max(0, r)) }

// agreementOfPoses returns the mean correlation of how parts turn, and of values,
// in both passes over the time that both cover, and of how many; 0 for none.
func agreementOfPoses(pairs []*trackPair, k *clock) (mean float64, n int) {
	first, last := k.common()
	rate := min(k.before.Rate, k.after.Rate, posesGrid)
	count := int((last - first) * rate)
	if last-first < 1 || count < 2 {
		return 0, 0
	}
	a, b := make([]r3.Vec, count), make([]r3.Vec, count)
	for _, p := range pairs {
		if p.motion != Turn && p.motion != Value || still(p.before) || still(p.after) {
			continue
		}
		for i := range a {
			t := first + float64(i)/rate
			a[i], b[i] = sample(p.before, k.indexBefore(t)), sample(p.after, k.indexAfter(t))
		}
		centre(a)
		centre(b)
		if r := dots(a, b); r != 0 {
			mean += r / math.Sqrt(dots(a, a)*dots(b, b))
			n++
		}
	}
	return mean / float64(max(n, 1)), n
}

// centre takes the mean off.
func centre(list []r3.Vec) {
	mean := r3.Vec{}
	for _, v := range list {
		mean = r3.Add(mean, v)
	}
	mean = r3.Scale(1/float64(len(list)), mean)
	for i := range list {
		list[i] = r3.Sub(list[i], mean)
	}
}

func dots(a, b []r3.Vec) float64 {
	sum := 0.0
	for i := range a {
		sum += r3.Dot(a[i], b[i])
	}
	return sum
}

// likenessOfSpeeds returns the mean correlation of the speeds of all pairs over the
// time that both sides cover, 1 when that is too short to tell.
func likenessOfSpeeds(pairs []*trackPair, k *clock) float64 {
	first, last := k.common()
	grid := 1 / min(k.before.Rate, k.after.Rate, gridRate)
	n := int((last-first)/grid) + 1
	if last-first < 1 || len(pairs) == 0 {
		return 1
	}
	sum := 0.0
	for _, p := range pairs {
		a, b := make([]float64, n), make([]float64, n)
		for i := range n {
			t := first + float64(i)*grid
			a[i], b[i] = speedAt(p.before, k.indexBefore(t)), speedAt(p.after, k.indexAfter(t))
		}
		a, b = blurred(a, blur/grid), blurred(b, blur/grid)
		unit(a)
		unit(b)
		for i := range a {
			sum += a[i] * b[i]
		}
	}
	return sum / float64(len(pairs))
}

// blurred averages with the weights of a bell of the given width in samples.
func blurred(x []float64, width float64) []float64 {
	far := int(3 * width)
	out := make([]float64, len(x))
	for i := range x {
		sum, weights := 0.0, 0.0
		for j := max(0, i-far); j <= min(len(x)-1, i+far); j++ {
			w := math.Exp(-float64((i-j)*(i-j)) / (2 * width * width))
			sum += w * x[j]
			weights += w
		}
		out[i] = sum / weights
	}
	return out
}
