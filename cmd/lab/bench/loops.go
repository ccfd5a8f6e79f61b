package main

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"encoding/xml"
	"strconv"
	"unsafe"

	"github.com/go-json-experiment/json/jsontext"
)

// The baselines: what a reader without a model would have to do at least.

// Kept takes what the loops compute, so that the compiler leaves nothing out.
var Kept float64

// numberAt returns the end of the number at i, or i if there is none.
func numberAt(src []byte, i int) int {
	if c := src[i]; c != '-' && c != '.' && c-'0' > 9 {
		return i
	}
	j := i + 1
	for j < len(src) && (src[j]-'0' <= 9 || src[j] == '.' || src[j] == 'e' || src[j] == '-') {
		j++
	}
	return j
}

// strconvLoop finds every number and gives it to strconv.ParseFloat.
func strconvLoop(src []byte) {
	sum := 0.0
	for i := 0; i < len(src); {
		j := numberAt(src, i)
		if j == i {
			i++
			continue
		}
		if v, err := strconv.ParseFloat(unsafe.String(&src[i], j-i), 64); err == nil {
			sum += v
		}
		i = j
	}
	Kept = sum
}

// powers of ten that are exact as floating-point numbers.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// decimalLoop finds every number and computes it exactly where a whole number
// of at most 15 digits over a power of ten gives it, else leaves it to
// strconv.ParseFloat.
func decimalLoop(src []byte) {
	sum := 0.0
	for i := 0; i < len(src); {
		c := src[i]
		if c != '-' && c != '.' && c-'0' > 9 {
			i++
			continue
		}
		start := i
		if c == '-' {
			i++
		}
		mantissa, digits, point := uint64(0), 0, -1
		for ; i < len(src); i++ {
			if d := src[i] - '0'; d <= 9 {
				mantissa = mantissa*10 + uint64(d)
				digits++
			} else if src[i] == '.' && point < 0 {
				point = digits
			} else {
				break
			}
		}
		if digits > 15 || i < len(src) && (src[i] == 'e' || src[i] == '-') {
			i = max(numberAt(src, start), start+1)
			if v, err := strconv.ParseFloat(unsafe.String(&src[start], i-start), 64); err == nil {
				sum += v
			}
			continue
		}
		v := float64(mantissa)
		if point >= 0 {
			v /= powers[digits-point]
		}
		if c == '-' {
			v = -v
		}
		sum += v
	}
	Kept = sum
}

// xmlLoop reads every token of an XML document.
func xmlLoop(src []byte) {
	d := xml.NewDecoder(bytes.NewReader(src))
	for {
		if _, err := d.RawToken(); err != nil {
			return
		}
	}
}

// jsonLoop reads every token of a JSON document with encoding/json.
func jsonLoop(src []byte) {
	d := json.NewDecoder(bytes.NewReader(src))
	for {
		if _, err := d.Token(); err != nil {
			return
		}
	}
}

// jsontextLoop reads every token of a JSON document and decodes what base64 it
// holds.
func jsontextLoop(src []byte) {
	d := jsontext.NewDecoder(bytes.NewBuffer(src))
	for {
		if _, err := d.ReadToken(); err != nil {
			break
		}
	}
	for {
		_, rest, found := bytes.Cut(src, []byte("base64,"))
		if !found {
			return
		}
		text, after, _ := bytes.Cut(rest, []byte(`"`))
		n, _ := base64.StdEncoding.Decode(make([]byte, base64.StdEncoding.DecodedLen(len(text))), text)
		Kept += float64(n)
		src = after
	}
}
