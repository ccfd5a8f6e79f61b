package usda

import (
	"strings"

	"curvelint/parse/text"
)

// place says whose metadata is read.
type place uint8

const (
	layerPlace place = iota
	primPlace
	attributePlace
)

var placeTitle = [...]string{"the metadata of the layer", "the metadata of this prim", "the metadata of this property"}

// fields are the metadata with a type of their own. Others take any value.
var fields = map[string]valueType{
	"defaultPrim": typeNamed("token"), "upAxis": typeNamed("token"), "colorSpace": typeNamed("token"),
	"interpolation": typeNamed("token"), "colorManagementSystem": typeNamed("token"),
	"metersPerUnit": typeNamed("double"), "kilogramsPerUnit": typeNamed("double"),
	"startTimeCode": typeNamed("double"), "endTimeCode": typeNamed("double"),
	"timeCodesPerSecond": typeNamed("double"), "framesPerSecond": typeNamed("double"),
	"framePrecision": typeNamed("int"), "elementSize": typeNamed("int"), "unauthoredValuesIndex": typeNamed("int"),
	"owner": typeNamed("string"), "sessionOwner": typeNamed("string"), "documentation": typeNamed("string"),
	"doc": typeNamed("string"), "kind": typeNamed("string"), "prefix": typeNamed("string"), "suffix": typeNamed("string"),
	"renderSettingsPrimPath": typeNamed("string"), "symmetricPeer": typeNamed("string"),
	"displayName": words("string"), "displayGroup": words("string"),
	"hasOwnedSubLayers": typeNamed("bool"), "active": typeNamed("bool"), "hidden": typeNamed("bool"),
	"instanceable": typeNamed("bool"), "noLoadHint": typeNamed("bool"),
	"allowedTokens": typeNamed("token[]"), "apiSchemas": typeNamed("token[]"), "clipSets": typeNamed("string[]"),
	"colorConfiguration": typeNamed("asset"),
	"customData":         {name: "dictionary", base: dictionary}, "customLayerData": {name: "dictionary", base: dictionary},
	"assetInfo": {name: "dictionary", base: dictionary}, "clips": {name: "dictionary", base: dictionary},
	"sdrMetadata": {name: "dictionary", base: dictionary}, "expressionVariables": {name: "dictionary", base: dictionary},
	"symmetryArguments": {name: "dictionary", base: dictionary},
}

func words(name string) valueType {
	t := typeNamed(name)
	t.nameOK = true
	return t
}

// notBlocked are the fields for which None is no value.
var notBlocked = map[string]bool{
	"doc": true, "kind": true, "prefix": true, "suffix": true, "customData": true, "customLayerData": true, "symmetryArguments": true,
}

// reserved are the words of the grammar that are no metadata of their own, and
// fields that are not written as metadata.
var reserved = map[string]bool{
	"add": true, "append": true, "class": true, "config": true, "connect": true, "custom": true, "def": true,
	"default": true, "delete": true, "dictionary": true, "nameChildren": true, "None": true, "offset": true,
	"over": true, "prepend": true, "properties": true, "rel": true, "reorder": true, "rootPrims": true,
	"scale": true, "timeSamples": true, "uniform": true, "variantSet": true, "varying": true,
	"comment": true, "specifier": true, "primChildren": true, "variantSetChildren": true, "propertyChildren": true,
}

// placed are the metadata that are allowed only at certain places.
var placed = map[string][]place{
	"kind": {primPlace}, "payload": {primPlace}, "inherits": {primPlace}, "specializes": {primPlace},
	"references": {primPlace}, "variants": {primPlace}, "variantSets": {primPlace}, "prefix": {primPlace}, "suffix": {primPlace},
	"prefixSubstitutions": {primPlace}, "suffixSubstitutions": {primPlace},
	"relocates": {layerPlace, primPlace}, "subLayers": {layerPlace},
	"customData": {primPlace, attributePlace}, "symmetryFunction": {primPlace, attributePlace},
	"symmetryArguments": {primPlace, attributePlace}, "permission": {primPlace, attributePlace},
}

// metadata reads ( ... ) if it comes next.
func (p *parser) metadata(at place) {
	if p.peek() != '(' {
		return
	}
	open := p.pos
	p.pos++
	p.statements(open, ')', placeTitle[at], func() bool {
		p.metadatum(at)
		return false
	})
}

// metadatum reads one statement of metadata: a comment string, or a field with
// its value, perhaps with a list operation before it.
func (p *parser) metadatum(at place) {
	if c := p.peek(); c == '"' || c == '\'' {
		p.text("a comment")
		return
	}
	op := ""
	switch w := p.word(); w {
	case "prepend", "append", "add", "delete", "reorder":
		op = w
		p.pos += len(w)
	}
	p.blank()
	start := p.pos
	key := p.word()
	if key == "" {
		p.expected("the name of a metadata field")
		return
	}
	p.pos += len(key)
	if !p.fits(key, at) {
		p.pos = start
		p.expected("a field of %s", strings.TrimPrefix(placeTitle[at], "the "))
		return
	}
	if p.want('=', "after '"+key+"'") {
		p.field(key, op, at)
	}
}

// fits reports whether the field may be written at the place.
func (p *parser) fits(key string, at place) bool {
	places, ok := placed[key]
	if !ok {
		return !reserved[key]
	}
	for _, x := range places {
		if x == at {
			return true
		}
	}
	return false
}

// field reads the value of a field, with the composition arcs among them.
func (p *parser) field(key, op string, at place) {
	n := p.prim
	switch key {
	case "references":
		p.arcs(op, &n.references, "reference", true)
	case "payload":
		p.arcs(op, &n.payloads, "payload", false)
	case "inherits":
		p.primPaths(op, &n.inherits, "inherited prim")
	case "specializes":
		p.primPaths(op, &n.specializes, "specialized prim")
	case "variantSets":
		p.nameList()
	case "variants":
		p.selections()
	case "subLayers":
		p.subLayers(op)
	case "relocates":
		p.relocates()
	case "prefixSubstitutions", "suffixSubstitutions":
		p.substitutions()
	case "permission":
		if w := p.word(); w != "public" && w != "private" {
			p.expected("public or private")
		} else {
			p.pos += len(w)
		}
	case "symmetryFunction":
		p.names(".")
	default:
		p.plainField(key, op, at)
	}
}

// plainField reads the value of a field that composition does not follow.
func (p *parser) plainField(key, op string, at place) {
	t := fields[key]
	p.blank()
	start := p.pos
	if op != "" {
		p.listField(key, t)
		return
	}
	switch {
	case !notBlocked[key] && p.keyword("None"):
		return
	case key == "customLayerData" && at == layerPlace:
		p.visit = p.noteCamera
		p.value(t)
		p.visit = nil
	case t.array && t.name != "string":
		p.uniqueList(t)
	default:
		p.value(t)
	}
	if p.bad {
		return
	}
	value := p.src[start:p.pos]
	if at == layerPlace {
		p.layerField(key, value)
	} else if at == primPlace {
		p.primField(key, value)
	}
}

// listField reads the list of a list operation on a field.
func (p *parser) listField(key string, t valueType) {
	if p.keyword("None") {
		return
	}
	if p.peek() != '[' {
		p.expected("a list in brackets '[ ]' for '%s'", key)
		return
	}
	t.array = t.base != anything
	p.uniqueList(t)
}

// uniqueList reads a list that is not empty and in which no string stands
// twice.
func (p *parser) uniqueList(t valueType) {
	if p.peek() != '[' {
		p.value(t)
		return
	}
	seen := map[string]bool{}
	t.array = false
	p.items('[', ']', "list", p.pos, func() bool {
		p.blank()
		start := p.pos
		if !p.value(t) {
			return false
		}
		item := string(p.src[start:p.pos])
		if seen[item] {
			p.problem(start, p.pos, "expected each item of this list once, found %s again", item)
			return false
		}
		seen[item] = true
		return true
	}, false)
}

// layerField keeps what is needed of the layer's metadata.
func (p *parser) layerField(key string, value []byte) {
	m := &p.layer.meta
	number := map[string]*float64{
		"timeCodesPerSecond": &m.timeCodes, "framesPerSecond": &m.frames,
		"startTimeCode": &m.start, "endTimeCode": &m.end, "metersPerUnit": &m.meters,
	}[key]
	if number != nil {
		if v, _, ok := text.Float(value, 0); ok {
			*number = v
		}
		return
	}
	switch key {
	case "upAxis":
		m.up = stringValue(value)
	case "defaultPrim":
		m.defaultPrim = stringValue(value)
	case "renderSettingsPrimPath":
		m.camera = stringValue(value)
	}
}

// noteCamera keeps the path that an entry of the layer's custom data gives for
// its camera.
func (p *parser) noteCamera(key, value string) {
	if strings.Contains(strings.ToLower(key), "camera") && strings.HasPrefix(value, "/") {
		p.layer.meta.camera = value
	}
}

// primField keeps what is needed of a prim's metadata.
func (p *parser) primField(key string, value []byte) {
	switch key {
	case "active":
		p.prim.active = 1
		if w := strings.ToLower(strings.Trim(string(value), `"'`)); w == "false" || w == "no" || w == "0" {
			p.prim.active = -1
		}
	case "clips":
		p.prim.clips = true
	}
}
