package fft

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// block is how many neighbouring lines one goroutine takes at a time: a batch of
// real rows, two to a lane, or two batches of columns, whose 16 elements of
// complex64 are two cache lines wide.
const block = 2 * lanes

// InBlocks calls work(lo, hi) for consecutive blocks that cover [0, n), on as
// many goroutines as there are processors, the caller's own among them.
func InBlocks(n int, work func(lo, hi int)) { inBlocksOf(block, n, work) }

// inBlocksOf is InBlocks for blocks of the given size.
func inBlocksOf(block, n int, work func(lo, hi int)) {
	c := crew{block: block, n: n, work: work}
	for range min(runtime.GOMAXPROCS(0), (n+block-1)/block) - 1 {
		c.others.Go(c.run)
	}
	c.run()
	c.others.Wait()
}

// crew is several goroutines that take blocks until none is left.
type crew struct {
	block, n int
	work     func(lo, hi int)
	next     atomic.Int64
	others   sync.WaitGroup
}

func (c *crew) run() {
	for {
		lo := (int(c.next.Add(1)) - 1) * c.block
		if lo >= c.n {
			return
		}
		c.work(lo, min(lo+c.block, c.n))
	}
}
