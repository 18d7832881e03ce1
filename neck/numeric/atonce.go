package numeric

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// EachAtOnce calls fn for 0 to n-1, on as many processors as there are, and
// returns when all calls have. The calls must not need each other. A panic of one
// is a panic here.
func EachAtOnce(n int, fn func(i int)) {
	workers := min(n, runtime.GOMAXPROCS(0))
	if workers < 2 {
		for i := range n {
			fn(i)
		}
		return
	}
	var next atomic.Int64
	var failed atomic.Pointer[any]
	work := func() {
		defer func() {
			if p := recover(); p != nil {
				failed.CompareAndSwap(nil, &p)
			}
		}()
		for failed.Load() == nil {
			i := int(next.Add(1)) - 1
			if i >= n {
				return
			}
			fn(i)
		}
	}
	var others sync.WaitGroup
	for range workers - 1 {
		others.Go(work)
	}
	work()
	others.Wait()
	if p := failed.Load(); p != nil {
		panic(*p)
	}
}
