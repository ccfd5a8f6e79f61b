package pictures

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"curvelint/cmd/lab/corpus"
	"curvelint/diagnostics/chart"
)

// Threshold draws how often a check is right when its threshold is swept over
// the flaws, near misses and natural motion of n seeds of the corpus.
func Threshold(ctx context.Context, w corpus.Sweep, n int) (*Picture, error) {
	points, err := w.Run(ctx, n)
	if err != nil {
		return nil, err
	}
	setting := w.Default()
	values := make([]chart.Operating, len(points))
	at := 0
	for i, p := range points {
		values[i] = chart.Operating{
			Label: label(p.Value, setting.Unit),
			Right: float64(p.Found) / float64(p.Planted), Wrong: float64(p.False) / float64(p.Proper),
		}
		if math.Abs(p.Value-setting.Default) < math.Abs(points[at].Value-setting.Default) {
			at = i
		}
	}
	values[at].Default = true
	title := fmt.Sprintf("%s: %s swept over the corpus", w.Check, strings.ReplaceAll(w.Setting, "_", " "))
	svg, err := chart.OperatingCurve(title, values, chart.Options{Width: width, Height: height})
	if err != nil {
		return nil, err
	}
	p := points[at]
	return &Picture{Check: w.Check + "-threshold", SVG: svg, Message: fmt.Sprintf(
		"`%s` swept from %s to %s: with the default, %s, %d of %d planted flaws are found and %d of %d proper scenes get a note",
		w.Setting, values[0].Label, values[len(values)-1].Label, values[at].Label, p.Found, p.Planted, p.False, p.Proper)}, nil
}

// label writes a threshold as people say it.
func label(v float64, unit string) string {
	switch unit {
	case "s":
		if v < 0.06 {
			return fmt.Sprintf("1/%.0f s", 1/v)
		}
		return strconv.FormatFloat(v, 'g', 2, 64) + " s"
	case "figure":
		return strconv.FormatFloat(100*v, 'g', 2, 64) + " % of figure"
	}
	return strconv.FormatFloat(v, 'g', 2, 64)
}
