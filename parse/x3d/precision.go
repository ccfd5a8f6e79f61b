package x3d

import (
	"math"

	"curvelint/parse/text"
)

// precision remembers how finely the numbers of a column were printed, by
// their size: writers that print a number of digits, not of decimals, print
// small numbers more finely than large ones.
type precision struct {
	count int
	most  int // decimals of the finest number
	// decimals are the most decimals of the numbers of each binary exponent,
	// those below 2^-lowest together; none where there is no number.
	decimals [32]int8
	seen     [32]bool
}

const (
	lowest = 20
	// enough is how many numbers a column must have before their sizes say
	// anything about the way they were printed.
	enough = 16
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
	b := bucket(v)
	d := int8(min(max(decimals, -100), 100))
	if !p.seen[b] || d > p.decimals[b] {
		p.decimals[b], p.seen[b] = d, true
	}
	if p.count == 0 || decimals > p.most {
		p.most = decimals
	}
	p.count++
}

// step returns the unit of the last decimal of the largest numbers, 0 when
// there are none. Few numbers say less: then it is that of the finest.
func (p *precision) step() float64 {
	if p.count == 0 {
		return 0
	}
	if p.count < enough {
		return text.Step(p.most)
	}
	top := 31
	for !p.seen[top] {
		top--
	}
	return text.Step(p.near(top-2, top))
}

// at returns the unit of the last decimal of a number of the column.
func (p *precision) at(v float64) float64 {
	if p.count < enough {
		return text.Step(p.most)
	}
	b := bucket(v)
	own, above := p.near(b, b), p.most
	if b < 31 && p.seen[b+1] {
		above = p.near(b+1, b+1)
	}
	return text.Step(min(own, above))
}

// near returns the most decimals of the numbers of some exponents, those of
// all numbers when there are none.
func (p *precision) near(from, to int) int {
	best, any := 0, false
	for b := max(from, 0); b <= to; b++ {
		if p.seen[b] && (!any || int(p.decimals[b]) > best) {
			best, any = int(p.decimals[b]), true
		}
	}
	if !any {
		return p.most
	}
	return best
}
