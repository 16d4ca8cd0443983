package fft

// lanes is how many lines are transformed side by side.
const lanes = 8

// cell holds element k of eight lines; a batch of lines of n elements is
// n cells, so that every inner loop runs along neighbours in memory.
type cell struct {
	re, im [lanes]float64
}

// chunk is how many cells are filled lane by lane before going on: 64 of them,
// 8 KiB, stay in the first cache.
const chunk = 64

// inChunks calls work(lo, hi) for consecutive pieces of [0, n).
func inChunks(n int, work func(lo, hi int)) {
	for lo := 0; lo < n; lo += chunk {
		work(lo, min(lo+chunk, n))
	}
}
