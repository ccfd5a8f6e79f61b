package usda

import (
	"bytes"
	"runtime"
	"sync"

	"curvelint/parse/scene"
)

// Blocks of samples are read on all processors when the layer is large enough
// to be worth it. The grammar only finds where such a block ends.
const (
	manyBytes  = 1 << 20 // of a layer
	blockBytes = 1 << 12 // of a block
)

// jobs are the blocks of samples of one layer that are being read.
type jobs struct {
	queue    chan job
	done     sync.WaitGroup
	mu       sync.Mutex
	problems scene.Problems // guarded by mu
}

type job struct {
	property *property
	from, to int
}

// startJobs returns the workers for a layer, or nil when the grammar should
// read everything itself.
func startJobs(p *parser) *jobs {
	n := runtime.GOMAXPROCS(0)
	if n < 2 || len(p.src) < manyBytes {
		return nil
	}
	j := &jobs{queue: make(chan job, 64)}
	for range n {
		j.done.Add(1)
		go j.work(p.src, p.file, p.maxDepth)
	}
	return j
}

// hand gives the block that comes next to the workers, unless it is small or
// holds what makes its end uncertain: comments, strings or braces.
func (j *jobs) hand(p *parser, q *property) bool {
	n := bytes.IndexByte(p.src[p.pos:], '}') + 1
	if n < blockBytes {
		return false
	}
	block := p.src[p.pos+1 : p.pos+n]
	for _, c := range []byte{'#', '/', '"', '\'', '{'} {
		if bytes.IndexByte(block, c) >= 0 {
			return false
		}
	}
	q.samples = &samples{} // so that it counts as written; the worker replaces it
	j.queue <- job{q, p.pos, p.pos + n}
	p.pos += n
	return true
}

// work reads blocks until there are no more.
func (j *jobs) work(src []byte, file scene.FileID, maxDepth int) {
	defer j.done.Done()
	var problems scene.Problems
	s := new(sampler)
	for next := range j.queue {
		p := parser{src: src[:next.to], pos: next.from, file: file, maxDepth: maxDepth}
		next.property.samples = p.readSamples(next.property.typ, s)
		problems.Append(&p.problems)
	}
	j.mu.Lock()
	j.problems.Append(&problems)
	j.mu.Unlock()
}

// wait returns when every block has been read, with the problems found.
func (j *jobs) wait() *scene.Problems {
	close(j.queue)
	j.done.Wait()
	return &j.problems
}
