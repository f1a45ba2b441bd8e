package study

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
)

// InOrder makes count things on all cores and hands them on one after the other, in their order. A maker belongs to one
// goroutine; it fills a thing that was made before or a new one, so that memory does not grow with count. An error of use
// ends the work, and so does the context, before the next thing is used.
func InOrder[T any](ctx context.Context, count int, maker func() func(i int, into *T), use func(*T) error) error {
	workers := min(count, runtime.GOMAXPROCS(0))
	things := make([]T, workers+1)
	ready := make([]chan any, len(things)) // holds what a maker panicked with, nil where all is well
	for i := range ready {
		ready[i] = make(chan any, 1)
	}
	jobs := make(chan int, len(things))
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			var fill func(int, *T)
			fault := caught(func() { fill = maker() })
			for i := range jobs {
				k := i % len(things)
				if fault == nil {
					fault = caught(func() { fill(i, &things[k]) })
				}
				ready[k] <- fault
			}
		})
	}
	defer wait.Wait()
	defer close(jobs)
	defer drop(jobs)
	sent := 0
	for ; sent < min(count, len(things)); sent++ {
		jobs <- sent
	}
	for i := range count {
		k := i % len(things)
		if fault := <-ready[k]; fault != nil {
			panic(fault) // where the caller's own goroutine can say it
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := use(&things[k]); err != nil {
			return err
		}
		if sent < count {
			jobs <- sent
			sent++
		}
	}
	return nil
}

// A workerFault is a panic of a worker with the stack that it had there; the caller's stack would lead nowhere.
type workerFault struct {
	fault any
	stack []byte
}

// Error words the fault with its stack.
func (f *workerFault) Error() string { return fmt.Sprintf("%v, in a worker:\n%s", f.fault, f.stack) }

// caught runs a function and returns what it panicked with.
func caught(do func()) (fault any) {
	defer func() {
		if p := recover(); p != nil {
			fault = &workerFault{p, debug.Stack()}
		}
	}()
	do()
	return nil
}

// drop takes back the jobs that nobody has begun.
func drop(jobs <-chan int) {
	for {
		select {
		case <-jobs:
		default:
			return
		}
	}
}
