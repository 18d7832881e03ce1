package live

import (
	"context"
	"errors"
	"time"
)

// errBusy is the answer when all the time is taken by earlier requests.
var errBusy = errors.New("the program is still busy with earlier requests; try again in a moment")

// errSlow is the answer when a computation takes too long.
var errSlow = errors.New("this takes too long; it was given up")

// limiter lets a few computations run at a time. One that is given up keeps its
// place until it ends, so that no number of requests makes more of them.
type limiter struct{ places chan struct{} }

func newLimiter(n int) *limiter { return &limiter{make(chan struct{}, n)} }

// do runs fn, and waits for a place and for the result no longer than most. A
// panic of fn is an error.
func do[T any](ctx context.Context, l *limiter, most time.Duration, fn func(context.Context) (T, error)) (T, error) {
	var zero T
	ctx, cancel := context.WithTimeout(ctx, most)
	defer cancel()
	select {
	case l.places <- struct{}{}:
	case <-ctx.Done():
		return zero, waitError(ctx, errBusy)
	}
	type result struct {
		value T
		err   error
	}
	done := make(chan result, 1)
	go func() {
		defer func() { <-l.places }()
		defer func() {
			if r := recover(); r != nil {
				done <- result{err: defect(r)}
			}
		}()
		v, err := fn(ctx)
		done <- result{v, err}
	}()
	select {
	case r := <-done:
		return r.value, r.err
	case <-ctx.Done():
		return zero, waitError(ctx, errSlow)
	}
}

// waitError tells a request that was called off from one that took too long.
func waitError(ctx context.Context, late error) error {
	if errors.Is(ctx.Err(), context.DeadlineExceeded) {
		return late
	}
	return ctx.Err()
}
