package collada

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/parse/scene"
)

// deck wraps libraries and the nodes of a scene in a document.
func deck(libraries, nodes string) string {
	return `<COLLADA version="1.4.1">` + libraries + `<library_visual_scenes><visual_scene id="deck">` + nodes +
		`</visual_scene></library_visual_scenes><scene><instance_visual_scene url="#deck"/></scene></COLLADA>`
}

// outline writes the parts of a scene, one word a part: its path, kind unless
// it is a plain node, and ! if it is the root of a figure.
func outline(s *scene.Scene) string {
	var words []string
	for _, p := range s.Parts {
		word := p.Path
		switch p.Kind {
		case scene.Joint:
			word += ":joint"
		case scene.SkeletonRoot:
			word += ":skeleton"
		case scene.Mesh:
			word += ":mesh"
		case scene.CameraPart:
			word += ":camera"
		case scene.LightPart:
			word += ":light"
		case scene.Weight:
			word += ":weight"
		}
		if p.Figure {
			word += "!"
		}
		words = append(words, word)
	}
	return strings.Join(words, " ")
}

func TestHierarchy(t *testing.T) {
	skin := `<library_controllers><controller id="skin"><skin source="#g"><source id="j"><Name_array id="j-a" count="2">Hips Spine</Name_array><technique_common><accessor source="#j-a" count="2"><param name="JOINT" type="name"/></accessor></technique_common></source><joints><input semantic="JOINT" source="#j"/></joints></skin></controller></library_controllers>`
	hat := `<library_controllers><controller id="hat"><skin source="#g"/></controller></library_controllers>`
	for _, test := range []struct{ name, libraries, nodes, want string }{
		{"names", "", `<node id="a" name="gull"><node id="b"/><node sid="c"/><node/></node><node name="gull"/>`, "/gull /gull/b /gull/c /gull/node /gull[2]"},
		{"kinds", `<library_cameras><camera id="c"><optics><technique_common><perspective><yfov>40</yfov></perspective></technique_common></optics></camera></library_cameras>`,
			`<node id="eye"><instance_camera url="#c"/></node><node id="lamp"><instance_light url="#l"/></node><node id="hull"><instance_geometry url="#g"/></node><node id="winch"><instance_geometry url="#g"/><node id="drum"/></node>`,
			"/eye:camera /lamp:light /hull:mesh /winch /winch/drum"},
		{"joints alone", "", `<node id="tug"><node id="hips" type="JOINT"><node id="spine" type="JOINT"/></node><node id="prop" type="JOINT"/></node>`,
			"/tug /tug/hips:joint! /tug/hips/spine:joint /tug/prop:joint"},
		{"skin with a skeleton", skin, `<node id="tug"><node id="hips" sid="Hips"><node id="spine" sid="Spine"/></node></node><node id="body"><instance_controller url="#skin"><skeleton>#tug</skeleton></instance_controller></node>`,
			"/tug:skeleton! /tug/hips:joint /tug/hips/spine:joint /body:mesh"},
		{"skin without a skeleton", skin, `<node id="tug"><node id="Hips"/><node id="Spine"/></node><node id="body"><instance_controller url="#skin"/></node>`,
			"/tug:skeleton! /tug/Hips:joint /tug/Spine:joint /body:mesh"},
		{"a hat", skin + hat, `<node id="tug"><node id="Hips"><node id="Spine"/></node></node><node id="body"><instance_controller url="#skin"><skeleton>#Hips</skeleton></instance_controller></node><node id="cap"><instance_controller url="#hat"><skeleton>#Spine</skeleton></instance_controller></node>`,
			"/tug /tug/Hips:joint! /tug/Hips/Spine:joint /body:mesh /cap:mesh"},
		{"a rider", skin + hat, `<node id="boat"><node id="Hips"><node id="saddle"><node id="Gull"/></node></node></node><node id="hull"><instance_controller url="#skin"><skeleton>#boat</skeleton></instance_controller></node><node id="bird"><instance_controller url="#hat"><skeleton>#Gull</skeleton></instance_controller></node>`,
			"/boat:skeleton! /boat/Hips:joint /boat/Hips/saddle /boat/Hips/saddle/Gull:skeleton! /hull:mesh /bird:mesh"},
		{"two bodies on a stage", skin + hat, `<node id="stage"><node id="Hips"/><node id="Spine"/><node id="gull"/></node><node id="body"><instance_controller url="#skin"/></node><node id="bird"><instance_controller url="#hat"><skeleton>#gull</skeleton></instance_controller></node>`,
			"/stage /stage/Hips:joint! /stage/Spine:joint! /stage/gull:skeleton! /body:mesh /bird:mesh"},
		{"instances", `<library_nodes><node id="buoy"><node id="bell"/></node></library_nodes>`, `<node id="port"><instance_node url="#buoy"/></node><node id="starboard"><instance_node url="#buoy"/></node>`,
			"/port /port/buoy /port/buoy/bell /starboard /starboard/buoy /starboard/buoy/bell"},
	} {
		s := read(t, deck(test.libraries, test.nodes))
		if got := outline(s); got != test.want {
			t.Errorf("%s: %s\nwant %s", test.name, got, test.want)
		}
	}
}

// TestTransforms holds the static pose of every transform element against its
// definition (COLLADA 1.4.1, chapter 5).
func TestTransforms(t *testing.T) {
	s := read(t, deck("", `<node id="a" type="JOINT"><node type="JOINT"/>
		<translate>1 2 3</translate><rotate>0 0 2 90</rotate><scale>2 3 4</scale></node>
		<node id="b" type="JOINT"><node type="JOINT"/><lookat>1 2 3  1 2 13  0 1 0</lookat></node>
		<node id="c" type="JOINT"><node type="JOINT"/><skew>45 0 1 0 1 0 0</skew></node>
		<node id="d" type="JOINT"><node type="JOINT"/><matrix>1 2 3 4 5 6 7 8 9 10 11 12 0 0 0 1</matrix><translate>1 0 0</translate></node>`))
	for path, want := range map[string]scene.Mat4{
		"/a": {0, -3, 0, 1, 2, 0, 0, 2, 0, 0, 4, 3, 0, 0, 0, 1}, // T * R * S in the order of the document
		"/b": {-1, 0, 0, 1, 0, 1, 0, 2, 0, 0, -1, 3, 0, 0, 0, 1},
		"/c": {1, 1, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1},
		"/d": {1, 2, 3, 5, 5, 6, 7, 13, 9, 10, 11, 21, 0, 0, 0, 1},
	} {
		part := s.Parts[s.Find(path)]
		if !part.HasRest || !near(part.Rest[:], want[:]) {
			t.Errorf("%s rests at %v, want %v", path, part.Rest, want)
		}
	}
	if kinds := fmt.Sprint(s.Parts[0].Ops[0].Kind, s.Parts[0].Ops[1].Kind, s.Parts[0].Ops[2].Kind); kinds != fmt.Sprint(scene.Translate, scene.RotateAxis, scene.Scale) {
		t.Errorf("ops %s", kinds)
	}
}

func cameraLibrary(kind, lens string) string {
	return `<library_cameras><camera id="lens"><optics><technique_common><` + kind + `>` + lens + `</` + kind + `></technique_common></optics></camera></library_cameras>`
}

func TestCameras(t *testing.T) {
	for _, test := range []struct {
		kind, lens    string
		width, height float64 // of the picture at distance 1, 0 if not known
	}{
		{"perspective", `<yfov>90</yfov>`, 0, 2},
		{"perspective", `<xfov>90</xfov>`, 2, 0},
		{"perspective", `<xfov>90</xfov><aspect_ratio>2</aspect_ratio>`, 2, 1},
		{"perspective", `<yfov>90</yfov><aspect_ratio>2</aspect_ratio>`, 4, 2},
		{"perspective", `<xfov>90</xfov><yfov>53.13010235415598</yfov>`, 2, 1},
		{"orthographic", `<xmag>3</xmag><ymag>2</ymag>`, 6, 4},
		{"orthographic", `<ymag>2</ymag><aspect_ratio>1.5</aspect_ratio>`, 6, 4},
	} {
		s := read(t, deck(cameraLibrary(test.kind, test.lens), `<node id="eye"><instance_camera url="#lens"/></node>`))
		c := s.Cameras[0]
		f := c.FocalLength
		if c.Orthographic {
			f = 1
		}
		if w, h := c.HorizontalAperture/f, c.VerticalAperture/f; math.Abs(w-test.width) > 1e-9 || math.Abs(h-test.height) > 1e-9 || c.AspectKnown != (w*h > 0) {
			t.Errorf("%s: %v by %v, aspect known %v", test.lens, w, h, c.AspectKnown)
		}
	}
}

func TestAnimatedLens(t *testing.T) {
	s := read(t, strings.Replace(rope{
		libraries: cameraLibrary("perspective", `<yfov sid="zoom">90</yfov><aspect_ratio>2</aspect_ratio>`),
		target:    "lens/zoom", times: "0 1", values: "90 53.13010235415598",
		methods: "BEZIER BEZIER", inTangents: "0 63.13010235415598", outTangents: "80 0",
	}.document(), `<translate`, `<instance_camera url="#lens"/><translate`, 1))
	cam := s.Cameras[0]
	c := s.Channels[cam.FocalLengthChannel]
	// f = height / (2 tan(yfov/2)): 12 for 90 degrees, 24 for twice the arc
	// tangent of a half.
	if cam.FocalLength != aperture/2 || math.Abs(c.Curve.Values[0]-12) > 1e-9 || math.Abs(c.Curve.Values[1]-24) > 1e-9 || c.Part != cam.Part || c.Name != "yfov" {
		t.Errorf("camera %+v, channel %+v", cam, c)
	}
	_, slope := focal(aperture)
	if h := c.Curve.Handles; math.Abs(h.OutV[0]+10*slope(90)) > 1e-9 || !(h.OutV[0] > 0) {
		t.Errorf("handles %+v", h)
	}
}

func TestMorph(t *testing.T) {
	morph := `<library_controllers><controller id="face"><morph source="#g"><source id="targets"><IDREF_array id="targets-a" count="2">smile blink</IDREF_array><technique_common><accessor source="#targets-a" count="2"/></technique_common></source>
		<source id="weights"><float_array id="weights-a" count="2">0 0</float_array><technique_common><accessor source="#weights-a" count="2"/></technique_common></source>
		<targets><input semantic="MORPH_TARGET" source="#targets"/><input semantic="MORPH_WEIGHT" source="#weights"/></targets></morph></controller>
		<controller id="skin"><skin source="#face"/></controller></library_controllers>`
	for _, target := range []string{"weights(1)", "weights-a(1)", "face(1)"} {
		s := read(t, rope{libraries: morph, node: `<instance_controller url="#skin"/>`, target: target, times: "0 1", values: "0 1"}.document())
		if got := outline(s); got != "/Rope:mesh /Rope/smile:weight /Rope/blink:weight" {
			t.Errorf("parts %s", got)
		}
		if c := s.Channels[0]; c.Part != 2 || c.Op != scene.NoOp || c.Quantity != scene.Share {
			t.Errorf("%s: channel %+v", target, c)
		}
	}
}

// TestInstancedChannel: each instance of an animated node moves.
func TestInstancedChannel(t *testing.T) {
	src := rope{times: "0 1", values: "0 1"}.document()
	src = strings.Replace(src, `<node id="rope" name="Rope">`, `<node id="second"><instance_node url="#rope"/></node><node id="rope" name="Rope">`, 1)
	s := read(t, src)
	if len(s.Channels) != 2 || s.Parts[s.Channels[0].Part].Path != "/second/Rope" || s.Parts[s.Channels[1].Part].Path != "/Rope" {
		t.Errorf("channels %+v", s.Channels)
	}
	if &s.Channels[0].Curve.Values[0] != &s.Channels[1].Curve.Values[0] {
		t.Error("instances do not share their keys")
	}
}

func TestNestedSIDs(t *testing.T) {
	for target, want := range map[string]string{
		"rope/inner/move.X": "/Rope/inner", "rope/inner/deep/move.X": "/Rope/inner/deep", "rope/move.X": "/Rope/inner", "rope/turn.ANGLE": "/Rope/inner/deep",
	} {
		s := read(t, rope{target: target, times: "0 1", values: "0 1", node: `<node sid="inner"><translate sid="move">0 0 0</translate><node sid="deep" id="deep"><translate sid="move">0 0 0</translate><rotate sid="turn">1 0 0 0</rotate></node></node>`}.document())
		if got := s.Parts[s.Channels[0].Part].Path; got != want {
			t.Errorf("%s drives %s, want %s", target, got, want)
		}
	}
}

func TestClips(t *testing.T) {
	src := rope{times: "0 1", values: "0 1"}.document()
	src = strings.Replace(src, `</library_animations>`, `<animation id="dive"><sampler id="s2"><input semantic="INPUT" source="#t"/><input semantic="OUTPUT" source="#v"/></sampler><channel source="#s2" target="rope/grow.Y"/></animation>
		<animation id="free"><channel source="#s2" target="rope/grow.Z"/></animation></library_animations>
		<library_animation_clips><animation_clip id="swaying" start="0" end="0.5"><instance_animation url="#sway"/></animation_clip><animation_clip name="diving" start="0.5" end="1"><instance_animation url="#dive"/></animation_clip></library_animation_clips>`, 1)
	names := func(s *scene.Scene) string {
		var list []string
		for _, c := range s.Channels {
			list = append(list, c.Name)
		}
		return fmt.Sprintln(list, s.Clip, s.OtherClips, s.First, s.Last, s.RangeKnown)
	}
	if got := names(read(t, src)); got != "[move.X grow.Z] swaying [diving] 0 12 true\n" {
		t.Errorf("first clip: %s", got)
	}
	s := Parse("rope.dae", []byte(src), scene.ReadOptions{Clip: "diving"})
	if got := names(s); got != "[grow.Y grow.Z] diving [swaying] 12 24 true\n" || len(s.Problems) > 0 {
		t.Errorf("second clip: %s %v", got, s.Problems)
	}
	s = Parse("rope.dae", []byte(src), scene.ReadOptions{Clip: "gliding"})
	if len(s.Problems) != 1 || !strings.Contains(s.Problems[0].Message, `no animation clip called "gliding"; it has "swaying", "diving"`) {
		t.Errorf("clip that is not there: %v", s.Problems)
	}
}

func TestLatin1(t *testing.T) {
	src := "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>" + deck("", "<node id=\"m\" name=\"M\xf6we\"/>")
	if s := Parse("gull.dae", []byte(src), scene.ReadOptions{}); len(s.Problems) > 0 || s.Parts[0].Path != "/Möwe" {
		t.Errorf("%v %s", s.Problems, outline(s))
	}
}
