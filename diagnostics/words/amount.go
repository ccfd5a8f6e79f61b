package words

import (
	"math"
	"strings"
)

// A unit is how the amounts of a measure's unit are written.
type unit struct {
	times float64 // what to multiply a value with
	name  string  // what stands behind the number
	short string  // the same where the rest is said elsewhere
	whole float64 // from where on the number has no decimal
}

// percentages have one decimal below 10, degrees below 100: a tenth of a degree is
// seen in a hip, a tenth of 30 % in nothing.
const (
	wholePercent = 10
	wholeDegrees = 100
)

// units by the names that note.Measure has, those a second aside.
var units = map[string]unit{
	"figure":   {100, " % of figure size", " %", wholePercent},
	"range":    {100, " % of its range", " %", wholePercent},
	"pictures": {100, " % of picture height", " %", wholePercent},
	"degrees":  {1, " degrees", "°", wholeDegrees},
}

const aSecond = "/s"

// unitOf returns the unit of a name such as "figure" or "degrees/s"; ok is false for
// one that is none of a length or an angle.
func unitOf(name string) (u unit, ok bool) {
	length, speed := strings.CutSuffix(name, aSecond)
	u, ok = units[length]
	if speed {
		u.name += " a second"
	}
	return u, ok
}

// UnitName returns what stands behind an amount in a unit, "% of figure size",
// "degrees a second"; "" for a unit without a name.
func UnitName(unit string) string {
	if u, ok := unitOf(unit); ok {
		return u.name[1:]
	}
	return ""
}

// Times returns what an amount in a unit is multiplied with before it is written: 100
// for what is written as a percentage.
func Times(unit string) float64 {
	if u, ok := unitOf(unit); ok {
		return u.times
	}
	return 1
}

// Length writes a length in figure sizes: "2.1 % of figure size".
func Length(figureSizes float64) string { return Amount("figure", figureSizes) }

// Degrees writes an angle: "12.5 degrees", "1 degree".
func Degrees(v float64) string { return Amount("degrees", v) }

// Range writes a change of a value as a share of the range that it has in the clip:
// "30 % of its range".
func Range(share float64) string { return Amount("range", share) }

// LengthOf is Length with the length in the world behind it: "2.1 % of figure size
// (3.6 cm)". Size is the figure's in metres, 0 where the file does not say its unit.
func LengthOf(figureSizes, size float64) string {
	if size <= 0 {
		return Length(figureSizes)
	}
	return Length(figureSizes) + " (" + Metres(figureSizes*size) + ")"
}

// Amount writes a value with its unit, which is one of note.Measure: "2.1 % of figure
// size", "84 % of figure size a second", "12.5 degrees", "1.5 s", "3 frames", "0.23"
// for a ratio and for a unit that it does not know.
func Amount(unit string, v float64) string {
	switch unit {
	case "s":
		return Seconds(v)
	case "frames":
		return InFrames(v)
	case "count":
		return decimal(v, 0)
	case "share":
		return Percent(v)
	case "m":
		return Metres(v)
	}
	return string(AppendAmount(nil, unit, v))
}

// AppendAmount appends what Amount returns for lengths, angles and speeds.
func AppendAmount(dst []byte, unit string, v float64) []byte {
	u, ok := unitOf(unit)
	if !ok {
		return appendDecimal(dst, v, 2, true)
	}
	at := len(dst)
	dst = u.append(dst, v)
	if string(dst[at:]) == "1" && u.short == "°" {
		return append(append(dst, " degree"...), u.name[len(" degrees"):]...)
	}
	return append(dst, u.name...)
}

// append appends an amount without its unit.
func (u *unit) append(dst []byte, v float64) []byte {
	v *= u.times
	at := len(dst)
	dst = appendDecimal(dst, v, decimalsOf(v, u.whole), false)
	if v != 0 && string(dst[at:]) == "0" {
		return append(dst[:at], "under 0.1"...)
	}
	return dst
}

// Short writes an amount where the rest of its unit is said elsewhere: "2.1 %",
// "12.5°".
func Short(unit string, v float64) string {
	u, ok := unitOf(unit)
	if !ok {
		return Amount(unit, v)
	}
	return string(append(u.append(nil, v), u.short...))
}

// decimalsOf is 1 below whole and 0 from there, by what is written: 9.97 is 10.
func decimalsOf(v, whole float64) int {
	if math.Round(math.Abs(v)*10)/10 < whole {
		return 1
	}
	return 0
}

// Percent writes a share of things or of time as a whole percentage: "8 %", and
// "under 1 %" for what is there but rounds to nothing.
func Percent(share float64) string {
	n := decimal(100*share, 0)
	if n == "0" && share > 1e-9 {
		return "under 1 %"
	}
	return n + " %"
}

// Change writes a value in two passes, both with the same decimals, and the unit once:
// "101 -> 84 % of figure size a second", "0.02 -> 0.55", "1 -> 5 frames". A change that
// is worth a word is seen in two digits: lengths and angles have a decimal only where
// both sides are below 10, and numbers of frames none, unless the two would be written
// alike then.
func Change(unit string, was, became float64) string {
	switch unit {
	case "frames":
		return pair(was, became, 0) + " frames"
	case "count":
		return padded(was, 0) + " -> " + padded(became, 0)
	case "s":
		return pair(was, became, secondsDecimals(min(was, became))) + " s"
	case "share":
		return pair(100*was, 100*became, 0) + " %"
	}
	u, ok := unitOf(unit)
	if !ok {
		return pair(was, became, 2)
	}
	was, became = u.times*was, u.times*became
	return pair(was, became, decimalsOf(max(math.Abs(was), math.Abs(became)), 10)) + u.name
}

// pair writes two numbers with at least so many decimals, and one where none would
// write two alike that are not.
func pair(was, became float64, decimals int) string {
	if decimals == 0 && padded(was, 0) == padded(became, 0) && was != became {
		decimals = 1
	}
	return padded(was, decimals) + " -> " + padded(became, decimals)
}
