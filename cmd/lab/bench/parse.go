package main

import (
	"fmt"
	"runtime"
	"time"

	"curvelint/parse"
	"curvelint/parse/scene"
)

// bakes are the sizes that are read: joints and frames.
func (b *bench) bakes() [][2]int {
	if b.quick {
		return [][2]int{{16, 200}}
	}
	return [][2]int{{64, 500}, {64, 10000}}
}

// reading returns a runner that reads a file into a scene, timed or alone.
func reading(how func(func()) runner, f format, src []byte) runner {
	name := "bake." + f.extension
	run := how(func() { held1 = parse.Parse(name, src, scene.ReadOptions{}) })
	return func() (time.Duration, error) {
		d, err := run()
		if len(held1.Channels) == 0 || len(held1.Problems) > 0 {
			err = fmt.Errorf("%s was not read: %v", name, held1.Problems)
		}
		held1 = nil
		return d, err
	}
}

// held1 keeps a scene alive while it is measured.
var held1 *scene.Scene

// parse measures reading files that are in memory into scenes.
func (b *bench) parse() error {
	b.out.text("\n## Reading\n\nFrom bytes in memory to a scene with the place of every key. MB/s, best / median; on one core of\n"+
		"processor time, on all of time on the clock. Baselines, on one core: every number found and given to `strconv.ParseFloat`; the same with an exact path for short\n"+
		"decimals; the tokens of `encoding/xml`; those of `encoding/json`; those of `jsontext` with the base64 decoded.\n"+
		"Budget: at least as fast as `strconv`, half of the short decimals, faster on %d cores; no budget for the others.\n", runtime.NumCPU())
	var rows, tokens [][]string
	for _, f := range formats {
		for _, size := range b.bakes() {
			src, err := f.bake(size[0], size[1])
			if err != nil {
				return err
			}
			what := fmt.Sprintf("%s, %d × %d, %s", f.name, size[0], size[1], megabytes(len(src)))
			one, all := reading(alone, f, src), reading(timed, f, src)
			if isText(f) {
				t, err := race(b.rounds, one, all, alone(func() { strconvLoop(src) }), alone(func() { decimalLoop(src) }))
				if err != nil {
					return err
				}
				rows = append(rows, b.parsed(what, len(src), t, size[1] > 1000))
			}
			row, err := b.tokens(f, what, src)
			if err != nil {
				return err
			}
			if row != nil {
				tokens = append(tokens, row)
			}
		}
	}
	b.out.table([]string{"joints × frames", "one core", fmt.Sprintf("%d cores", runtime.NumCPU()), "to `strconv`", "to short decimals", "gain of cores", "budget"}, rows)
	b.out.table([]string{"joints × frames", "one core", "`encoding/xml` or `encoding/json`", "`jsontext` and base64"}, tokens)
	return b.sceneMemory()
}

// isText reports whether a format writes its keys as numbers.
func isText(f format) bool { return f.extension != "gltf" }

// parsed returns the row of a race of ours on one core and all, strconv and
// short decimals.
func (b *bench) parsed(what string, size int, t []timing, large bool) []string {
	gain := better(t[0], t[1])
	met := b.out.hold("as fast as the `strconv` loop", what, better(t[2], t[0]) >= 1)
	if v := b.out.hold("half of the short-decimal loop", what, better(t[3], t[0]) >= 0.5); v != "met" {
		met = v
	}
	if large && runtime.NumCPU() > 1 && !b.busy {
		if v := b.out.hold("gain of the second core", what, gain >= 1.1); v != "met" {
			met = v
		}
	}
	return []string{what, rates(size, t[0]), rates(size, t[1]), ratio(t[2], t[0]), ratio(t[3], t[0]), ratio(t[0], t[1]), met}
}

// tokens races the formats in XML and JSON with loops over their tokens.
func (b *bench) tokens(f format, what string, src []byte) ([]string, error) {
	one := reading(alone, f, src)
	switch f.extension {
	case "dae", "x3d":
		t, err := race(b.rounds, one, alone(func() { xmlLoop(src) }))
		if err != nil {
			return nil, err
		}
		return []string{what, rates(len(src), t[0]), ratio(t[1], t[0]), ""}, nil
	case "gltf":
		t, err := race(b.rounds, one, alone(func() { jsonLoop(src) }), alone(func() { jsontextLoop(src) }))
		if err != nil {
			return nil, err
		}
		return []string{what, rates(len(src), t[0]), ratio(t[1], t[0]), ratio(t[2], t[0])}, nil
	}
	return nil, nil
}

// sceneMemory measures what a scene holds besides the text.
func (b *bench) sceneMemory() error {
	b.out.text("Memory of a scene without its text, for one byte of file. Budget: 1.5.\n")
	var rows [][]string
	size := b.bakes()[len(b.bakes())-1]
	for _, f := range formats {
		src, err := f.bake(size[0], size[1])
		if err != nil {
			return err
		}
		before := heap()
		held1 = parse.Parse("bake."+f.extension, src, scene.ReadOptions{})
		share := float64(heap()-before) / float64(len(src))
		runtime.KeepAlive(src)
		held1 = nil
		rows = append(rows, []string{f.name, fmt.Sprintf("%.2f", share), b.out.hold("size of a scene", f.name, share <= 1.5)})
	}
	b.out.table([]string{"format", "bytes", "budget"}, rows)
	return nil
}

// heap returns the bytes in use after a collection.
func heap() int {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int(m.HeapAlloc)
}
