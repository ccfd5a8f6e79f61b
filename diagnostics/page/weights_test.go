package page

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// Every weight of a speaking face is there, at every frame to the 255th part of its
// range.
func TestWeights(t *testing.T) {
	var b bytes.Buffer
	if err := write.USDASkeleton(&b, natural.Shot(natural.Shapes, natural.Options{Seed: 5, Seconds: 6}).Take(24)); err != nil {
		t.Fatal(err)
	}
	s := studied(t, "talk.usda", b.Bytes(), &config.Config{})
	f := decoded(t, s)
	byPart := map[string]*track.Track{}
	for id := range s.Study.Scene.Channels {
		x := &s.Study.Scene.Channels[id]
		if path := s.Study.ValueTrack(scene.ChannelID(id)); path != nil && s.Study.Scene.Parts[x.Part].Kind == scene.Weight {
			byPart[s.Study.Scene.Parts[x.Part].Path] = path
		}
	}
	if len(byPart) < 3 || len(f.Now.Weights) != len(byPart) || f.Now.OtherWeights != 0 {
		t.Fatalf("%d weights and %d others, want %d", len(f.Now.Weights), f.Now.OtherWeights, len(byPart))
	}
	for _, w := range f.Now.Weights {
		path := byPart[w.Part]
		values, err := base64.StdEncoding.DecodeString(w.Values)
		if err != nil || path == nil || len(values) != s.Study.N {
			t.Fatalf("%s: %d values, %v", w.Part, len(values), err)
		}
		for i, v := range values {
			got := w.Low + (w.High-w.Low)*float64(v)/255
			if want := path.Origin[0] + path.Unit*(path.X[i]-path.X[0]); math.Abs(got-want) > (w.High-w.Low)/500 {
				t.Fatalf("%s at %d: %g, want %g", w.Part, i, got, want)
			}
		}
	}
}

// shapes is a mesh whose weights run through the given values, one after another.
func shapes(names, weights string) string {
	return "#usda 1.0\n(\n    timeCodesPerSecond = 24\n    startTimeCode = 1\n    endTimeCode = 3\n)\n" +
		"def SkelRoot \"face\"\n{\n    def SkelAnimation \"talk\"\n    {\n        uniform token[] blendShapes = [" + names + "]\n" +
		"        float[] blendShapeWeights.timeSamples = {\n" + weights + "        }\n    }\n" +
		"    def Xform \"head\"\n    {\n    }\n}\n"
}

// Of many weights those that change most are shown, and those that stand still or
// are copies are not counted.
func TestWeightsAreFew(t *testing.T) {
	var names, rows [3]string
	for i := range 20 {
		names[0] += fmt.Sprintf(`"shape%02d", `, i)
		for f := range rows {
			rows[f] += fmt.Sprintf("%g, ", float64(f%2)*float64(i)/20) // the first stands still
		}
	}
	weights := ""
	for f, row := range rows {
		weights += fmt.Sprintf("            %d: [%s],\n", f+1, strings.TrimSuffix(row, ", "))
	}
	s := studied(t, "many.usda", []byte(shapes(strings.TrimSuffix(names[0], ", "), weights)), &config.Config{})
	list, others := newStage(s.Study).weights()
	if len(list) != mostWeights || others != 19-mostWeights || list[0].Name != "shape08" || list[len(list)-1].Name != "shape19" {
		t.Errorf("%d weights, %d others: %+v", len(list), others, list)
	}
}
