package body

import (
	"strings"
	"unicode"
)

// Body is what a part is of a body.
type Body uint8

// The parts of a body that groups are made from.
const (
	NoBody Body = iota
	Hips
	Chest
	Neck
	Head
	Mouth
	Brows
	Lids
	Eyes
	Ears
	Arm
	Fingers
	Leg
	Tail
	Wing
	Hair
	Coat
	Rope
	// Strand is a flexible chain and Features a part of the face of which no
	// name says more.
	Strand
	Features
)

var bodyNames = [...]string{"", "hips", "chest", "neck", "head", "mouth", "brows", "lids", "eyes", "ears",
	"arm", "fingers", "leg", "tail", "wing", "hair", "coat", "rope", "chain", "face"}

// String returns the body part's plain name: "brows", "arm".
func (b Body) String() string { return bodyNames[b] }

// Side is left, right or neither.
type Side int8

// The sides.
const (
	Middle Side = iota
	Left
	Right
)

var sideNames = [...]string{"", "left", "right"}

// String returns "left", "right" or "".
func (s Side) String() string { return sideNames[s] }

// Place is where on a limb a part sits, for limbs: what points are tracked and
// which joints are knees depends on it.
type Place uint8

// The places along a limb, from the body outwards.
const (
	NoPlace Place = iota
	Root          // clavicle
	Upper         // upper arm, thigh
	Lower         // forearm (turns at the elbow), shin (turns at the knee)
	End           // hand or wrist, foot or ankle
	Heel
	Toe
)

// Label is what a part's name says about it.
type Label struct {
	Body  Body
	Side  Side
	Place Place
	// Pair tells front from hind limbs: 'f', 'h' or 0.
	Pair byte
}

type word struct {
	body  Body
	place Place
	// rank decides between words of one name: "eyelid" is a lid, a "hand
	// index" a finger. Higher wins; equal ranks: the later word.
	rank int
}

// bodyWords are common trade words for parts of a body (common practice, no
// source), with the anatomical names that captured skeletons use.
var bodyWords = map[string]word{
	"hips": {Hips, 0, 1}, "hip": {Hips, 0, 1}, "pelvis": {Hips, 0, 1}, "cog": {Hips, 0, 1}, "root": {Hips, 0, 0}, "body": {Hips, 0, 0},
	"quarters": {Hips, 0, 1}, "haunch": {Hips, 0, 1}, "haunches": {Hips, 0, 1}, "croup": {Hips, 0, 1}, "rump": {Hips, 0, 1},
	"forequarters": {Chest, 0, 1}, "withers": {Chest, 0, 1},
	"spine": {Chest, 0, 1}, "torso": {Chest, 0, 1}, "chest": {Chest, 0, 1}, "ribs": {Chest, 0, 1}, "rib": {Chest, 0, 1},
	"ribcage": {Chest, 0, 1}, "abdomen": {Chest, 0, 1}, "belly": {Chest, 0, 1}, "waist": {Chest, 0, 1}, "back": {Chest, 0, 0}, "ab": {Chest, 0, 0}, "abs": {Chest, 0, 0}, "thorax": {Chest, 0, 1}, "lumbar": {Chest, 0, 1},
	"neck": {Neck, 0, 2}, "head": {Head, 0, 2}, "skull": {Head, 0, 2},
	"jaw": {Mouth, 0, 5}, "mandible": {Mouth, 0, 5}, "mouth": {Mouth, 0, 5}, "lip": {Mouth, 0, 5}, "lips": {Mouth, 0, 5}, "muzzle": {Mouth, 0, 5}, "tongue": {Mouth, 0, 5},
	"chin": {Mouth, 0, 4}, "beak": {Mouth, 0, 5}, "smile": {Mouth, 0, 5}, "frown": {Mouth, 0, 5}, "teeth": {Mouth, 0, 4},
	"brow": {Brows, 0, 8}, "brows": {Brows, 0, 8}, "eyebrow": {Brows, 0, 8},
	"lid": {Lids, 0, 7}, "lids": {Lids, 0, 7}, "eyelid": {Lids, 0, 7}, "blink": {Lids, 0, 7}, "squint": {Lids, 0, 7},
	"eye": {Eyes, 0, 6}, "eyes": {Eyes, 0, 6}, "gaze": {Eyes, 0, 6}, "eyeball": {Eyes, 0, 6}, "pupil": {Eyes, 0, 6},
	"ear": {Ears, 0, 5}, "ears": {Ears, 0, 5},
	"clav": {Arm, Root, 3}, "clavicle": {Arm, Root, 3}, "collar": {Arm, Root, 3}, "scapula": {Arm, Root, 3},
	"shoulder": {Arm, Upper, 3}, "arm": {Arm, Upper, 3}, "humerus": {Arm, Upper, 3}, "uparm": {Arm, Upper, 3}, "bicep": {Arm, Upper, 3}, "biceps": {Arm, Upper, 3},
	"elbow": {Arm, Lower, 3}, "forearm": {Arm, Lower, 4}, "radius": {Arm, Lower, 3}, "ulna": {Arm, Lower, 3},
	"wrist": {Arm, End, 4}, "hand": {Arm, End, 4}, "palm": {Arm, End, 4},
	"thumb": {Fingers, 0, 6}, "index": {Fingers, 0, 6}, "middle": {Fingers, 0, 2}, "ring": {Fingers, 0, 2}, "pinky": {Fingers, 0, 6},
	"finger": {Fingers, 0, 6}, "fingers": {Fingers, 0, 6}, "knuckle": {Fingers, 0, 6}, "metacarpal": {Fingers, 0, 6},
	"thigh": {Leg, Upper, 3}, "leg": {Leg, Lower, 3}, "upleg": {Leg, Upper, 4}, "femur": {Leg, Upper, 3}, "buttock": {Leg, Root, 3},
	"knee": {Leg, Lower, 3}, "shin": {Leg, Lower, 3}, "calf": {Leg, Lower, 3}, "tibia": {Leg, Lower, 3}, "hock": {Leg, Lower, 3}, "gaskin": {Leg, Lower, 3},
	"ankle": {Leg, End, 4}, "foot": {Leg, End, 4}, "feet": {Leg, End, 4}, "paw": {Leg, End, 4}, "hoof": {Leg, End, 4},
	"heel": {Leg, Heel, 5}, "toe": {Leg, Toe, 5}, "toes": {Leg, Toe, 5}, "ball": {Leg, Toe, 2},
	"tail": {Tail, 0, 4}, "wing": {Wing, 0, 5}, "wings": {Wing, 0, 5}, "feather": {Wing, 0, 5},
	"hair": {Hair, 0, 9}, "ponytail": {Hair, 0, 9}, "braid": {Hair, 0, 9}, "beard": {Hair, 0, 9},
	"coat": {Coat, 0, 9}, "cape": {Coat, 0, 9}, "skirt": {Coat, 0, 9}, "scarf": {Coat, 0, 9}, "sleeve": {Coat, 0, 9},
	"rope": {Rope, 0, 9}, "cable": {Rope, 0, 9}, "cord": {Rope, 0, 9}, "line": {Rope, 0, 0},
}

// modifiers may stand before or after a short body word inside one token.
var modifiers = map[string]bool{
	"": true, "upper": true, "up": true, "lower": true, "low": true, "lo": true, "fore": true, "inner": true, "outer": true,
	"in": true, "out": true, "top": true, "bottom": true, "base": true, "end": true, "tip": true, "joint": true, "jnt": true,
	"bone": true, "bn": true, "ctrl": true, "control": true, "grp": true, "geo": true, "main": true, "mid": true, "big": true,
	"front": true, "hind": true, "rear": true, "s": true, "raise": true, "open": true, "close": true, "closed": true,
	"left": true, "right": true, "lft": true, "rgt": true, "l": true, "r": true,
	"upr": true, "uppr": true, "lwr": true,
}

var sideWords = map[string]Side{
	"l": Left, "left": Left, "lft": Left, "lf": Left, "lt": Left,
	"r": Right, "right": Right, "rgt": Right, "rt": Right,
}

// ReadName says what a part's name tells of it: body words match a whole token
// or its beginning or end, tokens being split at case, digits and punctuation.
func ReadName(name string) Label {
	var l Label
	best, modifier, behind := -1, "", false
	for _, tok := range tokens(name) {
		if pair, rest := cutPair(tok); pair != 0 {
			l.Pair, tok = pair, rest
		}
		if s, ok := sideWords[tok]; ok {
			l.Side = s
			continue
		}
		behind = behind || tok == "back" || tok == "bck" || tok == "hnd" // hand or hind
		switch tok {
		case "up", "upper", "lower", "low", "lo", "fore", "upr", "uppr", "lwr":
			modifier = tok
		case "fr":
			modifier = "fore"
		}
		w, side, mod, ok := matchToken(tok)
		if !ok {
			w, ok = matchClipped(tok)
		}
		if !ok {
			continue
		}
		if side != Middle {
			l.Side = side
		}
		if mod != "" {
			modifier = mod
		}
		if w.rank >= best {
			best, l.Body, l.Place = w.rank, w.body, w.place
		}
	}
	if behind && l.Body == Leg {
		l.Pair = 'h'
	}
	refine(&l, modifier)
	return l
}

// cutPair finds a word for front or hind limbs at the beginning of a token and
// returns what follows it: "frontleg", "hind". "back" is one before a leg only.
func cutPair(tok string) (pair byte, rest string) {
	for _, w := range [...]string{"front", "frnt", "hind", "rear", "back"} {
		rest, ok := strings.CutPrefix(tok, w)
		if !ok {
			continue
		}
		m, _, _, found := matchToken(rest)
		if w == "back" && (!found || m.body != Leg) || rest != "" && !found {
			return 0, tok
		}
		if w == "front" || w == "frnt" {
			return 'f', rest
		}
		return 'h', rest
	}
	return 0, tok
}

// refine settles what only the whole name tells: a hip with a side is a thigh,
// a lower arm a forearm, an upper leg a thigh.
func refine(l *Label, modifier string) {
	switch {
	case l.Body == Hips && l.Side != Middle:
		l.Body, l.Place = Leg, Upper
	case l.Body == Arm && l.Place == Upper && (isLower(modifier) || modifier == "fore"):
		l.Place = Lower
	case l.Body == Leg && l.Place == Lower && isUpper(modifier):
		l.Place = Upper
	}
	if l.Body == Leg && modifier == "fore" {
		l.Pair = 'f'
	}
}

func isUpper(modifier string) bool {
	return modifier == "up" || modifier == "upper" || modifier == "upr" || modifier == "uppr"
}

func isLower(modifier string) bool {
	return modifier == "lower" || modifier == "low" || modifier == "lo" || modifier == "lwr"
}

// matchToken finds the body word in one lower-case token: the whole token, or
// its beginning or end where what remains is a side, a modifier or, for words
// of four letters and more, anything.
func matchToken(tok string) (w word, side Side, modifier string, ok bool) {
	if w, ok = bodyWords[tok]; ok {
		return w, Middle, "", true
	}
	if noBodyWords[tok] {
		return word{}, Middle, "", false
	}
	bestLen := 0
	for n := len(tok) - 1; n >= 3; n-- {
		for _, at := range [2]int{len(tok) - n, 0} {
			cand, found := bodyWords[tok[at:at+n]]
			if !found || n < bestLen {
				continue
			}
			rest := tok[:at]
			if at == 0 {
				rest = tok[n:]
			}
			if !modifiers[rest] && (n < 4 || weakWords[tok[at:at+n]]) {
				continue
			}
			if n == bestLen && cand.rank <= w.rank {
				continue
			}
			w, bestLen, ok = cand, n, true
			side, modifier = sideWords[rest], ""
			if modifiers[rest] && side == Middle {
				modifier = rest
			}
		}
	}
	return w, side, modifier, ok
}

// weakWords are body words that stand inside many other words.
var weakWords = map[string]bool{
	"ring": true, "line": true, "body": true, "root": true, "ball": true, "middle": true, "index": true, "cape": true, "cord": true, "chin": true,
}

// Words returns the words of a part's name in lower case, split at punctuation,
// digits and changes of case.
func Words(name string) []string { return tokens(name) }

// tokens splits a name at punctuation, digits and changes of case and returns
// the pieces in lower case.
func tokens(name string) []string {
	var out []string
	rs := []rune(name)
	start := 0
	flush := func(end int) {
		if end > start {
			out = append(out, strings.ToLower(string(rs[start:end])))
		}
	}
	for i, r := range rs {
		switch {
		case !unicode.IsLetter(r):
			flush(i)
			start = i + 1
		case i > start && unicode.IsUpper(r) && (unicode.IsLower(rs[i-1]) || (i+1 < len(rs) && unicode.IsLower(rs[i+1]))):
			flush(i)
			start = i
		}
	}
	flush(len(rs))
	return out
}
