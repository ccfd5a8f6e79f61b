package x3d

import (
	"math"
	"slices"

	"curvelint/parse/text"
)

// precision remembers how finely the numbers of a column were printed, by
// their size: writers that print a number of digits, not of decimals, print
// small numbers more finely than large ones.
type precision struct {
	count int
	// decimals are the most decimals of the numbers of each binary exponent,
	// those below 2^-lowest together, plus shifted; 0 where there is no number.
	decimals [32]uint8
}

const (
	lowest = 20
	// enough is how many numbers a column must have before their sizes say
	// anything about the way they were printed.
	enough = 16
	// mostDecimals bounds the decimals that are told apart, either way.
	mostDecimals = 100
	shifted      = mostDecimals + 1
)

// bucket returns the index of a number's binary exponent.
func bucket(v float64) int {
	e := int(math.Float64bits(v)>>52&0x7FF) - 1023 + lowest
	return min(max(e, 0), 31)
}

// add takes in a number with its decimals, unless it is not finite.
func (p *precision) add(v float64, decimals int) {
	if !isFinite(v) {
		return
	}
	d := uint8(min(max(decimals, -mostDecimals), mostDecimals) + shifted)
	if b := bucket(v); d > p.decimals[b] {
		p.decimals[b] = d
	}
	p.count++
}

// most returns the decimals of the finest number.
func (p *precision) most() int {
	return int(slices.Max(p.decimals[:])) - shifted
}

// step returns the unit of the last decimal of the largest numbers, 0 when
// there are none. Few numbers say less: then it is that of the finest.
func (p *precision) step() float64 {
	if p.count == 0 {
		return 0
	}
	if p.count < enough {
		return text.Step(p.most())
	}
	top := 31
	for p.decimals[top] == 0 {
		top--
	}
	return text.Step(p.near(top-2, top))
}

// at returns the unit of the last decimal of a number of the column.
func (p *precision) at(v float64) float64 {
	if p.count < enough {
		return text.Step(p.most())
	}
	b := bucket(v)
	own, above := p.near(b, b), p.most()
	if b < 31 && p.decimals[b+1] > 0 {
		above = p.near(b+1, b+1)
	}
	return text.Step(min(own, above))
}

// near returns the most decimals of the numbers of some exponents, those of
// all numbers when there are none.
func (p *precision) near(from, to int) int {
	best := uint8(0)
	for b := max(from, 0); b <= to; b++ {
		best = max(best, p.decimals[b])
	}
	if best == 0 {
		return p.most()
	}
	return int(best) - shifted
}
