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
// many goroutines as there are processors.
func InBlocks(n int, work func(lo, hi int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (n+block-1)/block) {
		wg.Go(func() {
			for {
				lo := (int(next.Add(1)) - 1) * block
				if lo >= n {
					return
				}
				work(lo, min(lo+block, n))
			}
		})
	}
	wg.Wait()
}
