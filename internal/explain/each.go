package explain

import (
	"runtime"
	"sync"
)

// each runs f for 0 to n-1 on all cores and returns the first error.
func each(n int, f func(k int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for k := range next {
				errs[k] = f(k)
			}
		})
	}
	for k := range n {
		next <- k
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
