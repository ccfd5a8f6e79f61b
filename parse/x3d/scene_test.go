package x3d

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/parse/scene"
)

// The winch is an invented scene with a bit of everything, three times: in
// VRML97, in Classic VRML and in XML.
const winchClassic = `#X3D V3.3 utf8
PROFILE Interchange
COMPONENT HAnim:1
META "title" "winch # not a comment"
UNIT length decimetre 0.1
# curvelint: allow frozen-hold because it waits
DEF Deck Transform {
  translation 1 2,3
  children [
    # curvelint: allow even-spacing 4-9 because it is a machine
    DEF Drum Transform {
      center 0 0.5 0
      rotation 0 0 2 1.5707963267948966
      scale 1 2 1
      scaleOrientation 0 1 0 0.25
      children Shape { geometry IndexedFaceSet {
        coord DEF Points Coordinate { point [ 0 0 0, 1 1 1, 0 1 0 ] }
        coordIndex [ 0 1 2 -1 ]
      } }
    }
    DEF Hook Transform { }
    Group { children [ DEF Chain Group { children [ USE Hook ] } ] }
    Viewpoint { description "Aft deck" position 0 1 8 fieldOfView 0.5 }
    DEF Clock TimeSensor { cycleInterval 2.5 loop TRUE }
  ]
}
DEF Turn OrientationInterpolator {
  key [ 0 0.4 1 ]
  keyValue [ 0 0 1 0, 0 0 1 1.5707963267948966, 0 0 -1 3 ]
}
DEF Lift PositionInterpolator { key [ 0 0.5 0.5 1 ] keyValue [ 0 0 0, 0 1.25 0, 0 2 0, 0 3 0 ] }
DEF Zoom ScalarInterpolator { key [ 0 1 ] keyValue [ 0.5 1 ] }
ROUTE Clock.fraction_changed TO Turn.set_fraction
ROUTE Clock.fraction_changed TO Lift.set_fraction
ROUTE Turn.value_changed TO Drum.set_rotation
ROUTE Lift.value_changed TO Hook.translation
`

const winchXML = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE X3D PUBLIC "ISO//Web3D//DTD X3D 3.3//EN" "x3d-3.3.dtd">
<X3D profile='Interchange' version='3.3'>
 <head>
  <component name='HAnim' level='1'/>
  <meta name='title' content='winch &lt;!-- not a comment'/>
  <unit category='length' name='decimetre' conversionFactor='0.1'/>
 </head>
 <Scene>
  <!-- curvelint: allow frozen-hold because it waits -->
  <Transform DEF='Deck' translation='1 2,3'>
   <!-- curvelint: allow even-spacing 4-9 because it is a machine -->
   <Transform DEF='Drum' center='0 0.5 0' rotation='0 0 2 1.5707963267948966' scale='1 2 1' scaleOrientation="0 1 0 0.25">
    <Shape><IndexedFaceSet coordIndex='0 1 2 -1'><Coordinate DEF='Points' point='0 0 0, 1 1 1, 0 1 0'/></IndexedFaceSet></Shape>
   </Transform>
   <Transform DEF='Hook'/>
   <Group><Group DEF='Chain'><Transform USE='Hook'/></Group></Group>
   <Viewpoint description='Aft deck' position='0 1 8' fieldOfView='0.5'/>
   <TimeSensor DEF='Clock' cycleInterval='2.5' loop='true'/>
  </Transform>
  <OrientationInterpolator DEF='Turn' key='0 0.4 1' keyValue='0 0 1 0, 0 0 1 1.5707963267948966,&#10;0 0 -1 3'/>
  <PositionInterpolator DEF='Lift' key='0 0.5 0.5 1' keyValue='0 0 0 0 1.25 0 0 2 0 0 3 0'/>
  <ScalarInterpolator DEF='Zoom' key='0 1' keyValue='0.5 1'/>
  <ROUTE fromNode='Clock' fromField='fraction_changed' toNode='Turn' toField='set_fraction'/>
  <ROUTE fromNode='Clock' fromField='fraction_changed' toNode='Lift' toField='set_fraction'/>
  <ROUTE fromNode='Turn' fromField='value_changed' toNode='Drum' toField='set_rotation'/>
  <ROUTE fromNode='Lift' fromField='value_changed' toNode='Hook' toField='translation'/>
 </Scene>
</X3D>
`

// encodings are the winch by encoding. VRML97 has no statements before the
// nodes, so that its unit is the metre.
var encodings = map[string]string{
	"classic": winchClassic,
	"xml":     winchXML,
	"vrml97":  "#VRML V2.0 utf8\n" + winchClassic[strings.Index(winchClassic, "# curvelint: allow frozen"):],
}

var opNames = map[scene.OpKind]string{scene.Translate: "T", scene.Scale: "S", scene.Orient: "Q"}

// describe prints a scene without its spans.
func describe(s *scene.Scene) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s rate %g %v frames %g to %g %v unit %g camera %d\n", s.Format, s.Rate, s.RateKnown, s.First, s.Last, s.RangeKnown, s.MetersPerUnit, s.DefaultCamera)
	for _, p := range s.Parts {
		fmt.Fprintf(&b, "part %s (%d) kind %d:", p.Path, p.Parent, p.Kind)
		for _, op := range p.Ops {
			sign := ""
			if op.Inverse {
				sign = "-"
			}
			fmt.Fprintf(&b, " %s%s %s%.4g", sign, opNames[op.Kind], op.Name, op.Value)
		}
		b.WriteByte('\n')
	}
	for _, ch := range s.Channels {
		c := ch.Curve
		fmt.Fprintf(&b, "channel %d op %d.%d %s %d: %.6g %.4g pre %.4g\n", ch.Part, ch.Op, ch.Component, ch.Name, ch.Quantity, c.Times, c.Values, c.PreValues)
	}
	for _, a := range s.Allows {
		fmt.Fprintf(&b, "allow %d %s %g-%g %s\n", a.Part, a.Check, a.First, a.Last, a.Why)
	}
	return b.String()
}

const winchDescribed = `x3d rate 24 true frames 0 to 60 true unit 0.1 camera 5
part /Deck (-1) kind 0: T translation[1 2 3]
part /Deck/Drum (0) kind 0: T center[0 0.5 0] Q rotation[0.7071 0 0 0.7071] Q scaleOrientation[0.9922 0 0.1247 0] S scale[1 2 1] -Q scaleOrientation[0.9922 0 0.1247 0] -T center[0 0.5 0]
part /Deck/Hook (0) kind 0: T translation[0 0 0]
part /Deck/Chain (0) kind 0:
part /Deck/Chain/Hook (3) kind 0: T translation[0 0 0]
part /Deck/Aft deck (0) kind 5: T position[0 1 8]
channel 1 op 1.0 rotation 3: [0 24 60] [1 0 0 0 0.7071 0 0 0.7071 -0.07074 0 0 0.9975] pre []
channel 2 op 0.0 translation.x 0: [0 30 60] [0 0 0] pre [0 0 0]
channel 2 op 0.1 translation.y 0: [0 30 60] [0 2 3] pre [0 1.25 3]
channel 2 op 0.2 translation.z 0: [0 30 60] [0 0 0] pre [0 0 0]
channel 4 op 0.0 translation.x 0: [0 30 60] [0 0 0] pre [0 0 0]
channel 4 op 0.1 translation.y 0: [0 30 60] [0 2 3] pre [0 1.25 3]
channel 4 op 0.2 translation.z 0: [0 30 60] [0 0 0] pre [0 0 0]
allow -1 frozen-hold NaN-NaN it waits
allow 0 even-spacing 4-9 it is a machine
`

func TestEncodings(t *testing.T) {
	for name, src := range encodings {
		s := Parse(name, []byte(src), scene.ReadOptions{})
		if len(s.Problems) > 0 {
			t.Errorf("%s: %v", name, s.Problems)
		}
		got := strings.ReplaceAll(describe(s), "-0 ", "0 ")
		want := winchDescribed
		if name == "vrml97" {
			want = strings.Replace(want, "unit 0.1", "unit 1", 1)
		}
		if got != want {
			t.Errorf("%s:\n%s\nwant:\n%s", name, got, want)
		}
	}
}

func TestSpans(t *testing.T) {
	wants := map[string]map[string]string{
		"classic": {
			"definition": "DEF Drum Transform", "channel": "DEF Turn OrientationInterpolator",
			"use": "USE Hook", "used name": "Hook",
			"center": "0 0.5 0", "block": " 0 0 1 0, 0 0 1 1.5707963267948966, 0 0 -1 3 ",
			"allow": "curvelint: allow even-spacing 4-9 because it is a machine",
		},
		"xml": {
			"definition": `<Transform DEF='Drum' center='0 0.5 0' rotation='0 0 2 1.5707963267948966' scale='1 2 1' scaleOrientation="0 1 0 0.25">`,
			"channel":    "<OrientationInterpolator DEF='Turn' key='0 0.4 1' keyValue='0 0 1 0, 0 0 1 1.5707963267948966,&#10;0 0 -1 3'/>",
			"use":        "<Transform USE='Hook'/>", "used name": "Hook",
			"center": "0 0.5 0", "block": "0 0 1 0, 0 0 1 1.5707963267948966,&#10;0 0 -1 3",
			"allow": "curvelint: allow even-spacing 4-9 because it is a machine",
		},
	}
	for name, want := range wants {
		src := encodings[name]
		s := Parse(name, []byte(src), scene.ReadOptions{})
		text := func(at scene.Span) string { return src[at.Start:at.End] }
		drum, used := &s.Parts[1], &s.Parts[4]
		for what, got := range map[string]string{
			"definition": text(drum.Def), "channel": text(s.Channels[0].Def), "use": text(used.Def),
			"used name": text(used.NameSpan), "center": text(drum.Ops[0].Span), "block": text(s.Channels[0].Block),
			"allow": text(s.Allows[1].Span),
		} {
			if got != want[what] {
				t.Errorf("%s: %s is %q, want %q", name, what, got, want[what])
			}
		}
		if body := text(drum.Body); !strings.HasPrefix(body, want["definition"]) || strings.Count(body, "Hook") > 0 || !strings.Contains(body, "Points") {
			t.Errorf("%s: body of the drum is %q", name, body)
		}
		for channel, keys := range map[scene.ChannelID][]string{0: {"0", "0", "0"}, 2: {"0", "2", "3"}, 5: {"0", "2", "3"}} {
			for i, key := range keys {
				if got := text(s.KeySpan(channel, i, 0)); got != key {
					t.Errorf("%s: key %d of channel %d is at %q, want %q", name, i, channel, got, key)
				}
			}
		}
	}
}

// TestSharing: instances and components share their columns.
func TestSharing(t *testing.T) {
	s := Parse("winch.x3dv", []byte(winchClassic), scene.ReadOptions{})
	if &s.Channels[1].Curve.Times[0] != &s.Channels[3].Curve.Times[0] || &s.Channels[1].Curve.Values[0] != &s.Channels[4].Curve.Values[0] {
		t.Error("columns are copied")
	}
}

func TestRateOption(t *testing.T) {
	s := Parse("winch.x3dv", []byte(winchClassic), scene.ReadOptions{Rate: 30})
	if s.Rate != 30 || s.Last != 75 || s.Channels[0].Curve.Times[1] != 30 {
		t.Errorf("rate %g, last %g, times %v", s.Rate, s.Last, s.Channels[0].Curve.Times)
	}
}

// figure is an invented H-Anim figure of two joints, its hand moved by a
// displacer.
const figure = `#X3D V3.0 utf8
DEF Hand HAnimHumanoid {
  name "deckhand" translation 0 0 5
  skeleton DEF root HAnimJoint {
    name "HumanoidRoot" center 0 1 0
    children [
      DEF spine HAnimJoint {
        name "vl5" center 0 1.25 0.5
        children [
          DEF chest HAnimSegment { name "chest" displacers DEF swell HAnimDisplacer { name "swell" } }
          HAnimSite { name "skull_tip" translation 0 1.75 0.5 }
        ]
      }
    ]
  }
  joints [ USE root USE spine ]
  segments USE chest
}
DEF T TimeSensor { cycleInterval 1 }
DEF R OrientationInterpolator { key [ 0 1 ] keyValue [ 1 0 0 0 1 0 0 1 ] }
DEF W ScalarInterpolator { key [ 0 1 ] keyValue [ 0 1 ] }
ROUTE T.fraction_changed TO R.set_fraction
ROUTE T.fraction_changed TO W.set_fraction
ROUTE R.value_changed TO spine.rotation
ROUTE W.value_changed TO swell.weight
`

func TestFigure(t *testing.T) {
	s := Parse("hand.x3dv", []byte(figure), scene.ReadOptions{})
	want := `x3d rate 24 true frames 0 to 24 true unit 1 camera -1
part /deckhand (-1) kind 2: T translation[0 0 5]
part /deckhand/HumanoidRoot (0) kind 1: T center[0 1 0]
part /deckhand/HumanoidRoot/vl5 (1) kind 1: -T center of parent[0 1 0] T center[0 1.25 0.5] Q rotation[1 0 0 0]
part /deckhand/HumanoidRoot/vl5/chest (2) kind 0:
part /deckhand/HumanoidRoot/vl5/chest/swell (3) kind 7:
part /deckhand/HumanoidRoot/vl5/skull_tip (2) kind 0: -T center of parent[0 1.25 0.5] T translation[0 1.75 0.5]
channel 2 op 2.0 rotation 3: [0 24] [1 0 0 0 0.8776 0.4794 0 0] pre []
channel 4 op -1.0 weight 5: [0 24] [0 1] pre []
`
	if got := describe(s); got != want || len(s.Problems) > 0 {
		t.Errorf("%v\n%s\nwant:\n%s", s.Problems, got, want)
	}
	rest := s.Parts[2].Rest
	if !s.Parts[0].Figure || !s.Parts[2].HasRest || rest[3] != 0 || rest[7] != 0.25 || rest[11] != 0.5 {
		t.Errorf("figure %v, rest %v", s.Parts[0].Figure, rest)
	}
}

// TestClips: sensors that move the same field are clips, others play along.
func TestClips(t *testing.T) {
	const src = `#VRML V2.0 utf8
DEF Gull Transform {} DEF Wave Transform {}
DEF Glide TimeSensor { cycleInterval 2 } DEF Land TimeSensor { cycleInterval 3 } DEF Sea TimeSensor { cycleInterval 1 loop TRUE }
DEF A PositionInterpolator { key [ 0 1 ] keyValue [ 0 0 0 1 0 0 ] }
DEF B PositionInterpolator { key [ 0 1 ] keyValue [ 0 0 0 5 0 0 ] }
DEF C PositionInterpolator { key [ 0 1 ] keyValue [ 0 0 0 0 9 0 ] }
ROUTE Glide.fraction_changed TO A.set_fraction ROUTE A.value_changed TO Gull.set_translation
ROUTE Land.fraction_changed TO B.set_fraction ROUTE B.value_changed TO Gull.set_translation
ROUTE Sea.fraction_changed TO C.set_fraction ROUTE C.value_changed TO Wave.set_translation
`
	for clip, want := range map[string]struct {
		others string
		last   float64
		x      float64
	}{"": {"Land", 48, 1}, "Glide": {"Land", 48, 1}, "Land": {"Glide", 72, 5}, "nothing": {"Land", 48, 1}} {
		s := Parse("gull.wrl", []byte(src), scene.ReadOptions{Clip: clip})
		if len(s.Channels) != 6 || len(s.Problems) > 0 {
			t.Fatalf("%d channels, %v", len(s.Channels), s.Problems)
		}
		if got := strings.Join(s.OtherClips, " "); got != want.others || s.Last != want.last || s.Channels[0].Curve.Values[1] != want.x {
			t.Errorf("clip %q: others %s, last %g, x %v", clip, got, s.Last, s.Channels[0].Curve.Values)
		}
		if post := s.Channels[3].Curve.Post; post != scene.LoopReset {
			t.Errorf("the looping sensor's motion goes on as %d", post)
		}
	}
}

// TestCamera: the lens shows the angle over the height of the picture, and its
// slope at keys is that of the angle.
func TestCamera(t *testing.T) {
	const src = `#VRML V2.0 utf8
DEF V Viewpoint { fieldOfView 1 }
DEF T TimeSensor { cycleInterval 1 }
DEF Z ScalarInterpolator { key [ 0 1 ] keyValue [ 1 0.5 ] }
ROUTE T.fraction_changed TO Z.set_fraction ROUTE Z.value_changed TO V.fieldOfView
`
	s := Parse("v.wrl", []byte(src), scene.ReadOptions{})
	if len(s.Cameras) != 1 || s.DefaultCamera != 0 {
		t.Fatalf("%d cameras, default %d, %v", len(s.Cameras), s.DefaultCamera, s.Problems)
	}
	cam := s.Cameras[0]
	angle := 2 * math.Atan(cam.VerticalAperture/2/cam.FocalLength)
	if math.Abs(angle-1) > 1e-12 || cam.AspectKnown {
		t.Errorf("field of view %g, want 1", angle)
	}
	c := &s.Channels[cam.FocalLengthChannel].Curve
	const h = 1e-6
	slope := (focalLength(1+h) - focalLength(1-h)) / (2 * h) * -0.5
	if got := 3 * c.Handles.OutV[0]; math.Abs(got-slope) > 1e-6*math.Abs(slope) {
		t.Errorf("slope %g, want %g", got, slope)
	}
	if z := s.Parts[0].Ops[0].Value[2]; z != 10 {
		t.Errorf("a viewpoint without position stands at z = %g, want 10", z)
	}
}
