// Command bellyline reads the STL of a soft-bait cavity and says what it holds,
// what the bait weighs, how much of each colour a double shot takes and what
// goes into each cup.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := untilInterrupted(ctx, func() int { return run(ctx, arguments(os.Args[1:], isDoubleClicked()), os.Stdout, os.Stderr) })
	stop()
	os.Exit(code)
}

// grace is how long an interrupted run may take to clean up. What writes files
// looks at its context far more often; what only computes need not be waited for.
const grace = 40 * time.Millisecond

// untilInterrupted returns the exit status of work, or of an interruption that
// work does not answer in time.
func untilInterrupted(ctx context.Context, work func() int) int {
	done := make(chan int, 1)
	go func() { done <- work() }()
	select {
	case code := <-done:
		return code
	case <-ctx.Done():
	}
	select {
	case code := <-done:
		return code
	case <-time.After(grace):
		fmt.Fprintln(os.Stderr, "bellyline: interrupted; nothing was written")
		return exitNoAnswer
	}
}
