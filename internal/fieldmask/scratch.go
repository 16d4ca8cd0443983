package fieldmask

import (
	"sync"

	"simview/internal/fft"
)

// Room for planes and spectra that are needed for a while only, kept between
// pictures as long as the collector lets it be; what is taken holds anything.
var planes, spectra sync.Pool

// plane takes room for n samples.
func plane(n int) []float32 { return room[float32](&planes, n) }

// spare gives a plane back that nobody reads any more.
func spare(v []float32) { planes.Put(&v) }

func room[T any](p *sync.Pool, n int) []T {
	if v, _ := p.Get().(*[]T); v != nil && cap(*v) >= n {
		return (*v)[:n]
	}
	return make([]T, n)
}

// inRuns calls work(lo, hi) for runs of neighbours that cover [0, n), in parallel.
func inRuns(n int, work func(lo, hi int)) {
	const run = 512 // of which a goroutine takes some at a time
	fft.InBlocks((n+run-1)/run, func(lo, hi int) { work(lo*run, min(hi*run, n)) })
}
